// The HDF5 types that a trajectory's writer and reader share.
#pragma once

#include <H5Cpp.h>
#include <cstddef>
#include <cstdint>

namespace bedshade {

/// An entry of shade_by: an index into the colonies (-1: none), and a share.
struct StoredShade {
    std::int32_t colony = -1;
    float share = 0.0F;
};
H5::CompType shade_type();

/// Stage as an enumeration with the names of the stages.
H5::EnumType stage_type();

/// A row of /flags in memory. Texts of any length are pointers, so that the tables can be made
/// before it is known what they will hold.
struct StoredFlag {
    double day_d = 0.0, share = 0.0;
    const char* detail = nullptr;
    std::int32_t member = 0, month = 0, colony = 0, culprit = -1;
    std::uint8_t flag = 0, culprit_kind = 0;
    char date[10] = {};
};
H5::CompType flag_type();

/// A row of /events in memory.
struct StoredEvent {
    double day_d = 0.0;
    const char* kind = nullptr;
    const char* text = nullptr;
    std::int32_t member = 0, colony = -1;
    char date[10] = {};
};
H5::CompType event_type();

/// The same type as it lies in the file: without gaps.
H5::CompType packed(const H5::CompType& type);

/// UTF-8 of a fixed length, padded with zeros.
H5::StrType padded_text(std::size_t size);

/// UTF-8 of any length.
H5::StrType endless_text();

}  // namespace bedshade
