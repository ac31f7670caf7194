// Arrays of numbers as they stand in a JSON document: little-endian bytes in base64.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

namespace bedshade {

/// Base64 with padding (RFC 4648, section 4).
std::string base64(const std::uint8_t* bytes, std::size_t count);

/// `{"type": "f32" | "u8" | "i16" | "u32", "shape": […], "base64": "…"}`.
nlohmann::ordered_json packed(const std::vector<float>& values, std::vector<std::size_t> shape);
nlohmann::ordered_json packed(const std::vector<std::uint8_t>& values,
                              std::vector<std::size_t> shape);
nlohmann::ordered_json packed(const std::vector<std::int16_t>& values,
                              std::vector<std::size_t> shape);
nlohmann::ordered_json packed(const std::vector<std::uint32_t>& values,
                              std::vector<std::size_t> shape);

/// `{"type": "q16", "step": s, …}`: values >= 0 as multiples of one step, the largest being 65534
/// of them; 65535 stands for no value, as do values that are negative or not finite.
nlohmann::ordered_json packed_in_steps(const std::vector<float>& values,
                                       std::vector<std::size_t> shape);

}  // namespace bedshade
