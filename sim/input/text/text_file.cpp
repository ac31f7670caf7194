#include "sim/input/text/text_file.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <fstream>
#include <system_error>
#include <vector>

#include "sim/base/text.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

std::string megabytes(std::uintmax_t bytes) {
    return fmt::format("{:.1f} MB", static_cast<double>(bytes) / 1048576.0);
}

bool may_be_opened(const fs::path& path, std::uintmax_t most_bytes, const Place& named_at,
                   Diagnostics& diagnostics) {
    std::error_code failure;
    const auto status = fs::status(path, failure);
    const std::string name = escape_control(path.string());
    if (status.type() == fs::file_type::not_found)
        diagnostics.error(named_at, fmt::format("there is no file `{}`", name));
    else if (failure)
        diagnostics.error(named_at,
                          fmt::format("`{}` cannot be read: {}", name, failure.message()));
    else if (fs::is_directory(status))
        diagnostics.error(named_at, fmt::format("`{}` is a folder, not a file", name),
                          "name a file inside it");
    else if (!fs::is_regular_file(status))
        diagnostics.error(named_at, fmt::format("`{}` is not an ordinary file", name));
    else if (const auto size = fs::file_size(path, failure); size > most_bytes)
        diagnostics.error(named_at, fmt::format("`{}` has {}, but at most {} are read", name,
                                                megabytes(size), megabytes(most_bytes)));
    else
        return true;
    return false;
}

/// Reads to the end, or until the limit is exceeded: kernel files contain more than their reported
/// size. At the end of the file unless something failed.
std::string bytes_from(std::ifstream& stream, std::uintmax_t most_bytes) {
    std::string bytes;
    std::vector<char> block(1U << 16U);
    while (bytes.size() <= most_bytes &&
           (stream.read(block.data(), static_cast<std::streamsize>(block.size())),
            stream.gcount() > 0))
        bytes.append(block.data(), static_cast<std::size_t>(stream.gcount()));
    return bytes;
}

Place line_of(std::string_view text, std::size_t offset, const std::string& file) {
    const auto before = text.substr(0, offset);
    return {file, 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n')), 0};
}

std::size_t first_control(std::string_view text) {
    const auto found = std::find_if(text.begin(), text.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return (byte < 0x20 && c != '\t' && c != '\n' && c != '\r') || byte == 0x7F;
    });
    return static_cast<std::size_t>(found - text.begin());
}

bool is_utf16(std::string_view text) {
    return text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF";
}

bool is_hdf5(std::string_view text) { return text.substr(0, 4) == "\x89HDF"; }

}  // namespace

bool is_plain_text(std::string_view text, const std::string& file, Diagnostics& diagnostics) {
    const std::size_t control = first_control(text);
    const std::size_t valid = valid_utf8_length(text);
    if (is_utf16(text))
        diagnostics.error({file}, "this file is written in UTF-16", "save it as UTF-8 text");
    else if (is_hdf5(text))
        diagnostics.error(
            {file}, "this is an HDF5 file, not a text file",
            "`bedshade describe` shows what a run contains, `bedshade rerun` runs it again");
    else if (control < text.size() && control <= valid)
        diagnostics.error(line_of(text, control, file),
                          fmt::format("this is not a text file: it contains the byte 0x{:02X}",
                                      static_cast<unsigned char>(text[control])));
    else if (valid < text.size())
        diagnostics.error(line_of(text, valid, file),
                          fmt::format("this is not UTF-8 text: the byte 0x{:02X} is invalid there",
                                      static_cast<unsigned char>(text[valid])),
                          "save the file as UTF-8");
    else
        return true;
    return false;
}

std::optional<std::string> read_bytes(const fs::path& path, std::uintmax_t most_bytes,
                                      const Place& named_at, Diagnostics& diagnostics) {
    if (!may_be_opened(path, most_bytes, named_at, diagnostics)) return std::nullopt;
    diagnostics.note_opened(path);
    std::ifstream stream(path, std::ios::binary);
    std::string bytes = bytes_from(stream, most_bytes);
    const std::string name = escape_control(path.string());
    if (bytes.size() > most_bytes)
        diagnostics.error(named_at, fmt::format("`{}` is longer than the {} that are read at most",
                                                name, megabytes(most_bytes)));
    else if (!stream.eof())
        diagnostics.error(named_at,
                          fmt::format("`{}` cannot be read: {}", name, std::strerror(errno)));
    else
        return bytes;
    return std::nullopt;
}

std::optional<std::string> read_text_file(const fs::path& path, const Place& named_at,
                                          Diagnostics& diagnostics) {
    auto text = read_bytes(path, kLargestTextFile, named_at, diagnostics);
    if (!text || !is_plain_text(*text, path.string(), diagnostics)) return std::nullopt;
    if (text->rfind("\xEF\xBB\xBF", 0) == 0) text->erase(0, 3);
    return text;
}

}  // namespace bedshade
