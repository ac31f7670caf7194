#include "sim/input/photometry/beam.h"

#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <utility>

#include "model/light/photometric_beam.h"

#include "sim/input/layout/resolve.h"
#include "sim/input/text/text_file.h"

namespace bedshade {
namespace {

using Shared = std::shared_ptr<const Photometry>;

/// Shares of the light that are not worth a word.
constexpr double kLittle = 0.005;

/// The exponent of a cos^m beam that falls to half at this angle from its axis: half of the full
/// beam angle lamps are sold by.
double exponent_of(double half_angle_rad) {
    return -std::numbers::ln2 / std::log(std::cos(half_angle_rad));
}

Shared shared(std::optional<Photometry> photometry) {
    return photometry ? std::make_shared<const Photometry>(std::move(*photometry)) : nullptr;
}

Shared read_file(TableReader& in, PhotometryCache& cache) {
    std::string written;
    if (!in.text("photometry", written)) return nullptr;
    const std::string path = path_beside(*in.node("photometry"), written).string();
    if (const auto found = cache.find(path); found != cache.end()) return found->second;
    const auto text = read_text_file(path, in.place("photometry"), in.diagnostics());
    return cache[path] = text ? shared(read_photometry(*text, path, in.diagnostics())) : nullptr;
}

Shared read_text(TableReader& in) {
    const auto* node = in.node("photometry_text");
    const auto text = node ? node->value<std::string_view>() : std::nullopt;
    if (node && !text)
        in.error("photometry_text", fmt::format("{} is {}, but must be the text of an LM-63 file",
                                                in.label("photometry_text"), describe(*node)));
    if (!text) return nullptr;
    const std::string name =
        fmt::format("{} ({})", in.place("photometry_text").file, in.label("photometry_text"));
    return shared(read_photometry(*text, name, in.diagnostics()));
}

const char* key_in(TableReader& in) {
    return in.has("photometry_text") ? "photometry_text" : "photometry";
}

}  // namespace

Shared read_beam(TableReader& in, Lamp& lamp, PhotometryCache& cache) {
    const int given = int(in.has("beam_exponent")) + int(in.has("half_angle")) +
                      int(in.has("photometry")) + int(in.has("photometry_text"));
    if (given > 1)
        in.diagnostics().error(in.place(),
                               fmt::format("{} gives its beam more than once", in.name()),
                               "give beam_exponent, half_angle or photometry");
    in.number("beam_exponent", lamp.beam_exponent, {0.0, 200.0});
    double half_angle_rad = 0.0;
    if (in.quantity("half_angle", half_angle_rad, kAngle, {1.0, 89.0}))
        lamp.beam_exponent = exponent_of(half_angle_rad);
    Shared photometry = read_file(in, cache);
    if (const Shared of_text = read_text(in); !photometry) photometry = of_text;
    if (photometry) lamp.web = photometry->web;
    return photometry;
}

void warn_of_losses(TableReader& in, const Lamp& lamp, const Photometry& photometry) {
    if (const double lost = backward_fraction(*photometry.web); lost > kLittle)
        in.warn(key_in(in),
                fmt::format("{:.1f} % of the light of {} is emitted behind its face", 100.0 * lost,
                            in.name()),
                "photon_flux includes it, and light that goes up is lost");
    if (const double factor = tilt_factor_at(photometry, lamp.tilt_rad);
        std::abs(factor - 1.0) > kLittle)
        in.warn(key_in(in),
                fmt::format("by its photometry {} emits {} of its light at this tilt", in.name(),
                            format_number(factor)),
                "photon_flux is used unchanged: give the output of the lamp at this tilt");
}

}  // namespace bedshade
