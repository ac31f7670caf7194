// HDF5 kept quiet, and its failures told in words.
#pragma once

#include <H5Cpp.h>
#include <filesystem>
#include <functional>
#include <string>

namespace bedshade {

/// Runs `work` and turns an HDF5 failure in it into a std::runtime_error "cannot DO 'PATH': why",
/// where why is the system's reason (disk full …) if HDF5 knows one. Prints nothing. Other
/// exceptions pass through.
void with_hdf5(const std::string& what, const std::filesystem::path& path,
               const std::function<void()>& work);

/// Throws H5::Exception when a call of the C interface failed.
void require(herr_t status, const char* call);

}  // namespace bedshade
