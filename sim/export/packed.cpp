#include "sim/export/packed.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <nlohmann/json.hpp>

namespace bedshade {
namespace {

using nlohmann::ordered_json;

static_assert(std::endian::native == std::endian::little, "arrays are packed as they lie");

constexpr std::uint16_t kNoValue = 65535;
constexpr float kMostSteps = 65534.0F;

template <class T>
ordered_json packed_as(const char* type, const std::vector<T>& values,
                       std::vector<std::size_t> shape) {
    const auto* bytes = reinterpret_cast<const std::uint8_t*>(values.data());
    return {{"type", type},
            {"shape", std::move(shape)},
            {"base64", base64(bytes, sizeof(T) * values.size())}};
}

bool has_value(float value) { return std::isfinite(value) && value >= 0.0F; }

/// Step so that the largest value is kMostSteps of them; 1 where there is none above zero.
float step_for(const std::vector<float>& values) {
    float most = 0.0F;
    for (const float value : values)
        if (has_value(value)) most = std::max(most, value);
    const float step = most / kMostSteps;
    return step > 0.0F ? step : 1.0F;
}

}  // namespace

std::string base64(const std::uint8_t* bytes, std::size_t count) {
    static constexpr char kDigits[] =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((count + 2) / 3 * 4);
    for (std::size_t i = 0; i < count; i += 3) {
        const std::size_t left = std::min<std::size_t>(3, count - i);
        std::uint32_t group = 0;
        for (std::size_t k = 0; k < 3; ++k) group = group << 8U | (k < left ? bytes[i + k] : 0U);
        for (std::size_t k = 0; k < 4; ++k)
            text += k <= left ? kDigits[group >> (18U - 6U * k) & 63U] : '=';
    }
    return text;
}

ordered_json packed(const std::vector<float>& values, std::vector<std::size_t> shape) {
    return packed_as("f32", values, std::move(shape));
}
ordered_json packed(const std::vector<std::uint8_t>& values, std::vector<std::size_t> shape) {
    return packed_as("u8", values, std::move(shape));
}
ordered_json packed(const std::vector<std::int16_t>& values, std::vector<std::size_t> shape) {
    return packed_as("i16", values, std::move(shape));
}
ordered_json packed(const std::vector<std::uint32_t>& values, std::vector<std::size_t> shape) {
    return packed_as("u32", values, std::move(shape));
}

ordered_json packed_in_steps(const std::vector<float>& values, std::vector<std::size_t> shape) {
    const float step = step_for(values);
    std::vector<std::uint16_t> steps(values.size(), kNoValue);
    for (std::size_t i = 0; i < values.size(); ++i)
        if (has_value(values[i]))
            steps[i] =
                static_cast<std::uint16_t>(std::min(std::round(values[i] / step), kMostSteps));
    ordered_json array = packed_as("q16", steps, std::move(shape));
    array["step"] = step;
    return array;
}

}  // namespace bedshade
