// Annotated HDF5 datasets: each with units, a long name, named dimensions, chunks and compression.
#pragma once

#include <H5Cpp.h>
#include <cstdint>
#include <string>
#include <vector>

namespace bedshade {

/// A dimension: its name, and the dataset that holds its coordinates.
struct Dimension {
    std::string name;
    H5::DataSet scale;
    hsize_t size = 0;
    bool grows = false;
};

/// One use of a dimension: how much of it lies in a chunk.
struct Extent {
    const Dimension* dimension = nullptr;
    hsize_t chunk = 0;
};

/// What a dataset is, for people and programs that read the file without us.
struct Meaning {
    std::string path;
    std::string units;  ///< as UDUNITS reads them; "1" for ratios, counts and names
    std::string long_name;
};

/// A new file; nothing in it depends on when, where or by which HDF5 1.10 or later it is made.
/// Fails where there is a file.
H5::H5File create_file(const std::string& path);

void create_group(H5::H5File& file, const std::string& path);

void write_attribute(H5::H5Object& object, const std::string& name, const std::string& text);
void write_attribute(H5::H5Object& object, const std::string& name, std::uint64_t number);

/// A new dataset over these dimensions, attached to their scales. `fill` (one element of `type` in
/// memory order) stands where nothing was written.
H5::DataSet create_dataset(H5::H5File& file, const Meaning& meaning, const H5::DataType& type,
                           const std::vector<Extent>& extents, const void* fill = nullptr);

/// A new dataset that is the scale of a dimension of its own, called `name`.
Dimension create_dimension(H5::H5File& file, const std::string& name, const Meaning& meaning,
                           const H5::DataType& type, hsize_t size);
/// The same without an end, stored by `chunk` entries.
Dimension create_growing_dimension(H5::H5File& file, const std::string& name,
                                   const Meaning& meaning, const H5::DataType& type, hsize_t chunk);

/// Bytes that the longest of the texts needs; at least one, since HDF5 knows no empty text.
std::size_t longest(const std::vector<std::string>& texts);

/// The texts one behind another, each padded to the longest: as `padded_text(longest(texts))`.
std::string padded_bytes(const std::vector<std::string>& texts);

}  // namespace bedshade
