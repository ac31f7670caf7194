// What an HDF5 file may hold, checked before the library sees it.
#pragma once

#include <filesystem>

namespace bedshade {

/// The library walks the store of texts (a "global heap") by sizes that stand in it and checks none
/// of them: one of nothing keeps HDF5 1.10 walking for ever. Throws Mismatch where a size leads
/// nowhere, and where the file is not laid out as the library lays files out by default.
///
/// Reads the file once from end to end. Layout of the store: HDF5 File Format Specification 3.0,
/// III.E.
void screen_hdf5(const std::filesystem::path& path);

}  // namespace bedshade
