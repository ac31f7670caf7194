// Silences HDF5 and turns its failures into messages.
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

/// Lets HDF5 close a file that can no longer be written: what it still has goes to memory that is
/// then forgotten, and the file stays as it is. Otherwise HDF5 keeps the file open and locked, and
/// its destructors print.
void divert_to_memory(const H5::H5File& file);

/// Throws H5::Exception when a call of the C interface failed.
void require(herr_t status, const char* call);

}  // namespace bedshade
