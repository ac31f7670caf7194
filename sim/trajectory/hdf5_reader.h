// Reads datasets of untrusted files: every mismatch is a clear error.
#pragma once

#include <H5Cpp.h>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

namespace bedshade {

/// The file is not as expected; the message has no file name.
class Mismatch : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// The dataset at `path`. Throws Mismatch when there is none, or when its values are not
/// of the class expected or have another number of dimensions.
H5::DataSet open_dataset(const H5::H5File& file, const std::string& path, H5T_class_t values,
                         int dimensions);

/// Its size along each dimension.
std::vector<hsize_t> extent_of(const H5::DataSet& dataset);

/// Throws Mismatch unless there are at most `most`.
void require_at_most(const std::string& what, hsize_t found, hsize_t most);

/// A text attribute of the root.
std::string text_attribute(const H5::H5File& file, const std::string& name);
/// A whole number not below zero.
std::uint64_t number_attribute(const H5::H5File& file, const std::string& name);

/// A list [n] of numbers, and one of texts of a fixed length.
std::vector<double> read_numbers(const H5::H5File& file, const std::string& path, hsize_t most);
std::vector<std::string> read_texts(const H5::H5File& file, const std::string& path, hsize_t most);

/// Part of a dataset: one item at the front indices, e.g. {member, time}, into `elements`, which
/// has room for it. Throws H5::Exception.
void read_item(const H5::DataSet& dataset, const std::vector<hsize_t>& front,
               const H5::DataType& type, void* elements);

}  // namespace bedshade
