// One dataset [member, time, ...] that grows by whole chunks along time.
#pragma once

#include <H5Cpp.h>
#include <cstddef>
#include <map>
#include <vector>

namespace bedshade {

/// Snapshots in a chunk. A chunk is compressed and written once, when it is full or its member
/// ends: a compressed chunk that is written again is lost when the program is killed meanwhile.
inline constexpr hsize_t kSnapshotsPerChunk = 16;

class SnapshotSeries {
  public:
    /// Of a dataset whose elements in memory are of `type`.
    SnapshotSeries(const H5::DataSet& dataset, const H5::DataType& type);

    /// Buffers one snapshot of a member, `elements()` elements of the memory type.
    void hold(int member, const void* elements);
    std::size_t elements() const { return elements_; }

    /// Writes what is held of a member as its snapshots from `first` on, and lets go of it.
    void write(int member, hsize_t first);

  private:
    struct Held {
        hsize_t snapshots = 0;
        std::vector<std::byte> bytes;
    };
    void grow_to(hsize_t snapshots);
    void write(int member, hsize_t first, const Held& held);

    H5::DataSet dataset_;
    H5::DataType type_;
    std::vector<hsize_t> extent_;  ///< of the dataset now
    std::size_t elements_ = 1;     ///< of one snapshot
    std::map<int, Held> held_;
};

}  // namespace bedshade
