#include "tools/bedshade/version.h"

#include <Eigen/Core>
#include <H5public.h>
#include <assimp/version.h>
#include <boost/version.hpp>
#include <ceres/version.h>
#include <embree3/rtcore_config.h>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <nlopt.h>
#include <openssl/crypto.h>
#include <toml++/toml.h>

#include "sim/base/model_version.h"

namespace bedshade {
namespace {

std::string three(unsigned long major, unsigned long minor, unsigned long patch) {
    return fmt::format("{}.{}.{}", major, minor, patch);
}

std::string hdf5_version() {
    unsigned major = 0, minor = 0, release = 0;
    H5get_libversion(&major, &minor, &release);
    return three(major, minor, release);
}

std::string nlopt_version() {
    int major = 0, minor = 0, bugfix = 0;
    ::nlopt_version(&major, &minor, &bugfix);
    return fmt::format("{}.{}.{}", major, minor, bugfix);
}

/// Libraries that are loaded with the program. HDF5, Assimp, NLopt and OpenSSL report their
/// versions; of the others it is that of the headers.
std::string loaded_libraries() {
    return fmt::format(
        "HDF5 {}, Embree {}, udunits 2, Assimp {}, NLopt {}, {}, Ceres {}, fmt {}, toml++ {}",
        hdf5_version(), RTC_VERSION_STRING,
        three(aiGetVersionMajor(), aiGetVersionMinor(), aiGetVersionPatch()), nlopt_version(),
        OpenSSL_version(OPENSSL_VERSION), CERES_VERSION_STRING,
        three(FMT_VERSION / 10000, FMT_VERSION / 100 % 100, FMT_VERSION % 100),
        three(TOML_LIB_MAJOR, TOML_LIB_MINOR, TOML_LIB_PATCH));
}

/// Libraries that are compiled in (of Boost all but Program_options).
std::string built_in_libraries() {
    return fmt::format(
        "Eigen {}, Boost {}, nlohmann-json {}",
        three(EIGEN_WORLD_VERSION, EIGEN_MAJOR_VERSION, EIGEN_MINOR_VERSION),
        three(BOOST_VERSION / 100000, BOOST_VERSION / 100 % 1000, BOOST_VERSION % 100),
        three(NLOHMANN_JSON_VERSION_MAJOR, NLOHMANN_JSON_VERSION_MINOR,
              NLOHMANN_JSON_VERSION_PATCH));
}

}  // namespace

std::string version_text() {
    return fmt::format(
        "bedshade {}, model {}\n"
        "compiler {}, floating point without contraction\n"
        "with {}\n"
        "including {}, Random123\n"
        "page with {}\n",
        kProgramVersion, kModelVersion, __VERSION__, loaded_libraries(), built_in_libraries(),
        BEDSHADE_PAGE_LIBRARIES);
}

}  // namespace bedshade
