#include "sim/trajectory/hdf5_reader.h"

#include <cstring>
#include <fmt/core.h>

#include "sim/trajectory/hdf5_error.h"
#include "sim/trajectory/hdf5_types.h"

namespace bedshade {

namespace {

constexpr std::size_t kMostTextBytes = std::size_t{1} << 20U;
constexpr std::size_t kMostListBytes = std::size_t{1} << 30U;

const char* word_for(H5T_class_t values) {
    switch (values) {
        case H5T_INTEGER:
            return "whole numbers";
        case H5T_FLOAT:
            return "numbers";
        case H5T_STRING:
            return "texts";
        case H5T_ENUM:
            return "an enumeration";
        default:
            return "a compound";
    }
}

H5::Attribute open_attribute(const H5::H5File& file, const std::string& name, H5T_class_t values) {
    if (!file.attrExists(name)) throw Mismatch(fmt::format("it has no attribute '{}'", name));
    H5::Attribute attribute = file.openAttribute(name);
    if (attribute.getTypeClass() != values || attribute.getSpace().getSimpleExtentNpoints() != 1)
        throw Mismatch(
            fmt::format("its attribute '{}' does not contain {}", name, word_for(values)));
    return attribute;
}

/// Whether something of this name is in the file itself: links may lead in circles, or have the
/// library open another file.
bool holds(const H5::H5File& file, const std::string& path) {
    if (!file.nameExists(path)) return false;
    H5L_info_t link;
    require(H5Lget_info(file.getId(), path.c_str(), &link, H5P_DEFAULT), "H5Lget_info");
    return link.type == H5L_TYPE_HARD;
}

/// Whether each group on the way and the object itself are there.
bool has(const H5::H5File& file, const std::string& path) {
    for (auto end = path.find('/', 1);; end = path.find('/', end + 1)) {
        if (!holds(file, path.substr(0, end))) return false;
        if (end == std::string::npos) return true;
    }
}

}  // namespace

H5::DataSet open_dataset(const H5::H5File& file, const std::string& path, H5T_class_t values,
                         int dimensions) {
    if (!has(file, path) || file.childObjType(path) != H5O_TYPE_DATASET)
        throw Mismatch(fmt::format("it has no dataset {}", path));
    H5::DataSet dataset = file.openDataSet(path);
    if (dataset.getTypeClass() != values)
        throw Mismatch(fmt::format("{} does not contain {}", path, word_for(values)));
    const H5::DSetCreatPropList list = dataset.getCreatePlist();
    if (list.getExternalCount() > 0 || list.getLayout() == H5D_VIRTUAL)
        throw Mismatch(fmt::format("{} keeps its values in another file", path));
    const int found = dataset.getSpace().getSimpleExtentNdims();
    if (found != dimensions)
        throw Mismatch(fmt::format("{} has {} dimensions, not {}", path, found, dimensions));
    return dataset;
}

std::vector<hsize_t> extent_of(const H5::DataSet& dataset) {
    const H5::DataSpace space = dataset.getSpace();
    std::vector<hsize_t> extent(static_cast<std::size_t>(space.getSimpleExtentNdims()));
    space.getSimpleExtentDims(extent.data());
    return extent;
}

void require_at_most(const std::string& what, hsize_t found, hsize_t most) {
    if (found > most)
        throw Mismatch(fmt::format("it claims {} {}, over the limit of {}", found, what, most));
}

std::string text_attribute(const H5::H5File& file, const std::string& name) {
    const H5::Attribute attribute = open_attribute(file, name, H5T_STRING);
    std::string text;
    attribute.read(attribute.getStrType(), text);
    return text;
}

std::uint64_t number_attribute(const H5::H5File& file, const std::string& name) {
    std::uint64_t number = 0;
    open_attribute(file, name, H5T_INTEGER).read(H5::PredType::NATIVE_UINT64, &number);
    return number;
}

std::vector<double> read_numbers(const H5::H5File& file, const std::string& path, hsize_t most) {
    const H5::DataSet dataset = open_dataset(file, path, H5T_FLOAT, 1);
    const hsize_t count = extent_of(dataset)[0];
    require_at_most("values in " + path, count, most);
    std::vector<double> numbers(count);
    if (count > 0) dataset.read(numbers.data(), H5::PredType::NATIVE_DOUBLE);
    return numbers;
}

std::vector<std::string> read_texts(const H5::H5File& file, const std::string& path, hsize_t most) {
    const H5::DataSet dataset = open_dataset(file, path, H5T_STRING, 1);
    const hsize_t count = extent_of(dataset)[0];
    require_at_most("texts in " + path, count, most);
    if (dataset.getDataType().isVariableStr())
        throw Mismatch(fmt::format("the strings of {} have no fixed length", path));
    const std::size_t size = dataset.getStrType().getSize();
    require_at_most("bytes in a text of " + path, size, kMostTextBytes);
    require_at_most("bytes in " + path, count * size, kMostListBytes);
    std::string bytes(count * size, '\0');
    if (count > 0) dataset.read(bytes.data(), padded_text(size));
    std::vector<std::string> texts;
    for (std::size_t at = 0; at < bytes.size(); at += size)
        texts.emplace_back(&bytes[at], strnlen(&bytes[at], size));
    return texts;
}

void read_item(const H5::DataSet& dataset, const std::vector<hsize_t>& front,
               const H5::DataType& type, void* elements) {
    std::vector<hsize_t> count = extent_of(dataset), start(count.size(), 0);
    for (std::size_t i = 0; i < front.size(); ++i) {
        start[i] = front[i];
        count[i] = 1;
    }
    H5::DataSpace in_file = dataset.getSpace();
    in_file.selectHyperslab(H5S_SELECT_SET, count.data(), start.data());
    const H5::DataSpace in_memory(static_cast<int>(count.size()), count.data());
    dataset.read(elements, type, in_memory, in_file);
}

}  // namespace bedshade
