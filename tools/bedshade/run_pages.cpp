#include "tools/bedshade/run_pages.h"

#include <fmt/format.h>
#include <set>

#include "sim/base/text_output.h"
#include "sim/export/replay_page.h"

#include "tools/bedshade/page_shell.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

/// A path as an address (RFC 3986): all but plain letters, digits and a few marks by their bytes.
std::string address_of(const fs::path& path) {
    std::string address;
    for (const char c : path.generic_string()) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                           (c >= '0' && c <= '9') || c == '/' || c == '.' || c == '-' || c == '_';
        if (plain)
            address += c;
        else
            address += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return address;
}

}  // namespace

RunLinks make_run_pages(const std::vector<std::string>& from, const Ranking& ranking,
                        const fs::path& page) {
    RunLinks links;
    const fs::path page_folder = fs::absolute(page).parent_path();
    std::set<std::string> ranked;
    for (const RankedRow& row : ranking.rows) ranked.insert(row.row.key);
    for (const std::string& folder : from) {
        const fs::path runs = fs::path(folder) / "runs";
        if (!fs::is_directory(runs)) continue;
        for (const auto& entry : fs::directory_iterator(runs)) {
            fs::path shown = entry.path();
            const std::string key = shown.stem().string();
            if (shown.extension() != ".h5" || ranked.count(key) == 0) continue;
            shown.replace_extension(".html");
            if (!fs::exists(shown))
                write_text(shown, replay_page(Trajectory(entry.path()), page_shell()));
            links[key] = address_of(fs::absolute(shown).lexically_proximate(page_folder));
        }
    }
    return links;
}

}  // namespace bedshade
