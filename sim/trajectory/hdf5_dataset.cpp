#include "sim/trajectory/hdf5_dataset.h"

#include <H5DSpublic.h>
#include <algorithm>

#include "sim/trajectory/hdf5_error.h"
#include "sim/trajectory/hdf5_types.h"

namespace bedshade {

namespace {

constexpr int kDeflateLevel = 4;

/// Chunked, shuffled, deflated, and without a time of day.
H5::DSetCreatPropList storage(const std::vector<hsize_t>& chunk) {
    H5::DSetCreatPropList list;
    list.setChunk(static_cast<int>(chunk.size()), chunk.data());
    list.setShuffle();
    list.setDeflate(kDeflateLevel);
    require(H5Pset_obj_track_times(list.getId(), 0), "H5Pset_obj_track_times");
    return list;
}

struct Space {
    std::vector<hsize_t> size, limit, chunk;

    void add(hsize_t size_now, bool grows, hsize_t chunk_size) {
        // HDF5 allows no chunk beyond the limit of a dimension, and no chunk of nothing.
        const hsize_t most = std::max<hsize_t>(size_now, 1);
        size.push_back(size_now);
        limit.push_back(grows ? H5S_UNLIMITED : most);
        chunk.push_back(grows ? chunk_size : std::clamp<hsize_t>(chunk_size, 1, most));
    }
};

H5::DataSet create(H5::H5File& file, const Meaning& meaning, const H5::DataType& type,
                   const Space& space, const void* fill) {
    H5::DSetCreatPropList list = storage(space.chunk);
    if (fill != nullptr) list.setFillValue(type, fill);
    const H5::DataSpace extent(static_cast<int>(space.size.size()), space.size.data(),
                               space.limit.data());
    H5::DataSet dataset = file.createDataSet(meaning.path, type, extent, list);
    write_attribute(dataset, "units", meaning.units);
    write_attribute(dataset, "long_name", meaning.long_name);
    return dataset;
}

Dimension make_scale(const H5::DataSet& dataset, const std::string& name, hsize_t size,
                     bool grows) {
    require(H5DSset_scale(dataset.getId(), name.c_str()), "H5DSset_scale");
    require(H5DSset_label(dataset.getId(), 0, name.c_str()), "H5DSset_label");
    return {name, dataset, size, grows};
}

}  // namespace

H5::H5File create_file(const std::string& path) {
    H5::FileCreatPropList creation;
    require(H5Pset_obj_track_times(creation.getId(), 0), "H5Pset_obj_track_times");
    H5::FileAccPropList access;
    // The newest format marks a file as open for writing, and refuses it after a kill.
    access.setLibverBounds(H5F_LIBVER_EARLIEST, H5F_LIBVER_V18);
    return {path, H5F_ACC_EXCL, creation, access};
}

void create_group(H5::H5File& file, const std::string& path) {
    const hid_t list = H5Pcreate(H5P_GROUP_CREATE);
    H5Pset_obj_track_times(list, 0);
    const hid_t group = H5Gcreate2(file.getId(), path.c_str(), H5P_DEFAULT, list, H5P_DEFAULT);
    H5Pclose(list);
    if (group < 0) throw H5::Exception("H5Gcreate2", "failed");
    H5Gclose(group);
}

void write_attribute(H5::H5Object& object, const std::string& name, const std::string& text) {
    const H5::StrType type = endless_text();
    object.createAttribute(name, type, H5::DataSpace(H5S_SCALAR)).write(type, text);
}

void write_attribute(H5::H5Object& object, const std::string& name, std::uint64_t number) {
    object.createAttribute(name, H5::PredType::STD_U64LE, H5::DataSpace(H5S_SCALAR))
        .write(H5::PredType::NATIVE_UINT64, &number);
}

H5::DataSet create_dataset(H5::H5File& file, const Meaning& meaning, const H5::DataType& type,
                           const std::vector<Extent>& extents, const void* fill) {
    Space space;
    for (const auto& [dimension, chunk] : extents)
        space.add(dimension->size, dimension->grows, chunk);
    H5::DataSet dataset = create(file, meaning, type, space, fill);
    unsigned place = 0;
    for (const auto& [dimension, chunk] : extents) {
        const hid_t id = dataset.getId();
        require(H5DSattach_scale(id, dimension->scale.getId(), place), "H5DSattach_scale");
        require(H5DSset_label(id, place++, dimension->name.c_str()), "H5DSset_label");
    }
    return dataset;
}

Dimension create_dimension(H5::H5File& file, const std::string& name, const Meaning& meaning,
                           const H5::DataType& type, hsize_t size) {
    Space space;
    space.add(size, false, size);
    return make_scale(create(file, meaning, type, space, nullptr), name, size, false);
}

Dimension create_growing_dimension(H5::H5File& file, const std::string& name,
                                   const Meaning& meaning, const H5::DataType& type,
                                   hsize_t chunk) {
    Space space;
    space.add(0, true, chunk);
    return make_scale(create(file, meaning, type, space, nullptr), name, 0, true);
}

std::size_t longest(const std::vector<std::string>& texts) {
    std::size_t size = 1;
    for (const auto& text : texts) size = std::max(size, text.size());
    return size;
}

std::string padded_bytes(const std::vector<std::string>& texts) {
    const std::size_t size = longest(texts);
    std::string bytes(texts.size() * size, '\0');
    for (std::size_t i = 0; i < texts.size(); ++i) texts[i].copy(&bytes[i * size], size);
    return bytes;
}

}  // namespace bedshade
