#include "tools/bedshade/version.h"

#include <H5public.h>
#include <embree3/rtcore_config.h>
#include <fmt/format.h>

#include "sim/season/model_version.h"

namespace bedshade {

std::string version_text() {
    return fmt::format(
        "bedshade {}, model {}\n"
        "compiler {}, floating point without contraction\n"
        "HDF5 {}.{}.{}, Embree {}\n",
        kProgramVersion, kModelVersion, __VERSION__, H5_VERS_MAJOR, H5_VERS_MINOR, H5_VERS_RELEASE,
        RTC_VERSION_STRING);
}

}  // namespace bedshade
