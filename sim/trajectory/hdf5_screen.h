// Checks an HDF5 file before the library reads it.
#pragma once

#include <filesystem>

namespace bedshade {

/// The library walks the string heap (a "global heap") by the sizes in it without checking them; a
/// size of zero makes HDF5 1.10 loop forever. Throws Mismatch if a size is invalid, or if the file
/// does not have the library's default layout.
///
/// Reads the file once from end to end. Layout of the store: HDF5 File Format Specification 3.0,
/// III.E.
void screen_hdf5(const std::filesystem::path& path);

}  // namespace bedshade
