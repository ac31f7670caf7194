#include "sim/trajectory/snapshot_series.h"

namespace bedshade {

SnapshotSeries::SnapshotSeries(const H5::DataSet& dataset, const H5::DataType& type)
    : dataset_(dataset), type_(type) {
    const H5::DataSpace space = dataset_.getSpace();
    extent_.resize(static_cast<std::size_t>(space.getSimpleExtentNdims()));
    space.getSimpleExtentDims(extent_.data());
    for (std::size_t i = 2; i < extent_.size(); ++i) elements_ *= extent_[i];
}

void SnapshotSeries::hold(int member, const void* elements) {
    const auto* bytes = static_cast<const std::byte*>(elements);
    Held& held = held_[member];
    held.bytes.insert(held.bytes.end(), bytes, bytes + elements_ * type_.getSize());
    ++held.snapshots;
}

void SnapshotSeries::grow_to(hsize_t snapshots) {
    if (snapshots <= extent_[1]) return;
    extent_[1] = snapshots;
    dataset_.extend(extent_.data());
}

void SnapshotSeries::write(int member, hsize_t first) {
    const auto held = held_.extract(member);
    if (held.empty()) return;
    grow_to(first + held.mapped().snapshots);
    if (elements_ > 0) write(member, first, held.mapped());
}

void SnapshotSeries::write(int member, hsize_t first, const Held& held) {
    std::vector<hsize_t> start(extent_.size(), 0), count = extent_;
    start[0] = static_cast<hsize_t>(member);
    start[1] = first;
    count[0] = 1;
    count[1] = held.snapshots;
    H5::DataSpace in_file = dataset_.getSpace();
    in_file.selectHyperslab(H5S_SELECT_SET, count.data(), start.data());
    const H5::DataSpace in_memory(static_cast<int>(count.size()), count.data());
    dataset_.write(held.bytes.data(), type_, in_memory, in_file);
}

}  // namespace bedshade
