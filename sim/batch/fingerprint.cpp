#include "sim/batch/fingerprint.h"

#include <array>
#include <sstream>

#include "sim/base/sha256.h"
#include "sim/input/layout/resolve.h"
#include "sim/input/text/text_file.h"
#include "sim/input/text/toml_file.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

/// The largest of the files that a layout can name (a mesh).
constexpr std::uintmax_t kMostBytes = std::uintmax_t{256} << 20U;

constexpr std::array<std::string_view, 4> kFileKeys = {"file", "photometry", "spectrum_file",
                                                       "traits"};

bool names_file(std::string_view key) {
    for (const std::string_view each : kFileKeys)
        if (key == each) return true;
    return false;
}

std::string digest_of_file(const toml::node& named) {
    const auto written = named.value_exact<std::string_view>();
    if (!written) return {};
    Diagnostics ignored;  // the layout reader reports it
    const auto bytes =
        read_bytes(path_beside(named, *written), kMostBytes, place_of(named), ignored);
    return bytes ? sha256_hex(*bytes) : std::string("none");
}

/// Digests of the files named in a table, in the order of its keys.
void add_files(const toml::node& node, bool names, std::string& digests) {
    if (const auto* table = node.as_table())
        for (auto&& [key, value] : *table) add_files(value, names_file(key.str()), digests);
    else if (const auto* list = node.as_array())
        for (const auto& item : *list) add_files(item, names, digests);
    else if (names)
        digests += digest_of_file(node) + '\n';
}

std::string digest_of(const toml::table& table) {
    std::string digests;
    add_files(table, false, digests);
    std::ostringstream text;
    text << table << '\n' << digests;
    return sha256_hex(text.str());
}

}  // namespace

std::string layout_fingerprint(const fs::path& path) {
    Diagnostics diagnostics;
    if (const auto table = resolve_layout(path, {}, diagnostics)) return digest_of(*table);
    const auto bytes = read_bytes(path, kMostBytes, {path.string()}, diagnostics);
    return sha256_hex("unreadable\n" + bytes.value_or(std::string()));
}

std::string overlay_fingerprint(const Overlay& layer) {
    Diagnostics diagnostics;
    if (const auto table = parse_toml(layer.text, layer.file, diagnostics))
        return digest_of(*table);
    return sha256_hex("unreadable\n" + layer.text);
}

}  // namespace bedshade
