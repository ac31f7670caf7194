#include "sim/input/layout_reader.h"

#include <fmt/format.h>
#include <optional>
#include <sstream>
#include <utility>

#include "sim/input/embedded_mesh.h"
#include "sim/input/layout_table.h"
#include "sim/input/problems.h"
#include "sim/input/resolve.h"
#include "sim/input/sections.h"
#include "sim/input/table_reader.h"
#include "sim/input/trait_files.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

constexpr int kFormat = 1;

/// The table the run starts from, the layout's own rows over it, the command line's over those.
TraitTable read_traits(TableReader& top, const LayoutOptions& options) {
    TraitTable traits;
    if (options.traits_text)
        traits.lay_over(*options.traits_text, "traits");
    else
        traits = builtin_traits();
    const auto* list = top.node("traits");
    if (list && !list->is_array())
        top.error("traits",
                  fmt::format("traits is {}, but must be a list of files", in_words(*list)),
                  "write traits = [\"file.csv\"]");
    if (list && list->is_array())
        for (const auto& item : *list->as_array()) {
            if (const auto file = item.value<std::string_view>())
                lay_over_file(path_beside(item, *file), place_of(item), traits, top.problems());
            else
                top.problems().error(place_of(item), "traits must name files, in quotes");
        }
    for (const auto& path : options.trait_files)
        lay_over_file(path, {path.string()}, traits, top.problems());
    return traits;
}

void read_heading(TableReader& top, Layout& layout) {
    int format = kFormat;
    const bool given = top.whole_number("format", format, 1, 1000);
    if (!top.has("format"))
        top.problems().error(top.place(), "the layout does not say its format",
                             fmt::format("begin it with format = {}", kFormat));
    if (given && format != kFormat)
        top.error("format", fmt::format("format {} is newer than this program", format),
                  fmt::format("it reads format {}", kFormat));
    top.text("title", layout.title);
    top.node("extends");  // known, though it is resolved and gone by now
}

void read_sections(TableReader& top, Draft& draft) {
    read_season(top, draft);
    read_tank(top, draft);
    read_substrate(top, draft);
    read_water(top, draft);
    read_lamps(top, draft);
    read_rocks(top, draft);
    read_pumps(top, draft);
    read_inhabitants(top, draft);
    read_colonies(top, draft);
    read_readings(top, draft);
    read_actions(top, draft);
    read_measured(top, draft);
    check_crowding(top, draft.layout);
}

toml::array numbers(const std::vector<double>& values) {
    toml::array list;
    for (const double value : values) list.push_back(value);
    return list;
}

/// Puts spectra and photometry read from files into the layout itself.
void make_lamps_self_contained(toml::table& table, const Draft& draft) {
    auto* lamps = table["lamp"].as_array();
    for (std::size_t i = 0; lamps && i < lamps->size(); ++i) {
        auto& lamp = *(*lamps)[i].as_table();
        if (lamp.contains("photometry")) {
            lamp.erase("photometry");
            lamp.insert("photometry_text", draft.photometry[i]->text);
        }
        if (!lamp.contains("spectrum_file")) continue;
        const auto& points = *draft.layout.lamps[i].spectrum_table;
        lamp.erase("spectrum_file");
        lamp.insert("spectrum_points", toml::table{{"wavelength_nm", numbers(points.wavelength_nm)},
                                                   {"photons", numbers(points.photons)}});
    }
}

/// Puts a mesh read from a file into the layout itself.
void make_rocks_self_contained(toml::table& table, const MeshStore& meshes) {
    auto* rocks = table["rock"].as_array();
    for (std::size_t i = 0; rocks && i < rocks->size(); ++i) {
        auto& rock = *(*rocks)[i].as_table();
        const auto mesh = meshes.by_rock.find(rock["name"].value_or(std::string()));
        if (mesh == meshes.by_rock.end()) continue;
        rock.erase("file");
        rock.insert_or_assign("mesh", mesh_table(mesh->second));
    }
}

/// The layout as one text that needs no other file but its trait table.
std::string self_contained(toml::table table, const Draft& draft) {
    table.erase("traits");
    make_lamps_self_contained(table, draft);
    make_rocks_self_contained(table, draft.meshes);
    std::ostringstream out;
    out << table << '\n';
    return out.str();
}

LayoutFile read_table(std::optional<toml::table> table, const std::string& file,
                      const LayoutOptions& options, Problems& problems) {
    if (table && table->empty())
        problems.error({file}, "this file holds no layout",
                       "`bedshade new` writes one to start from");
    if (!table || table->empty()) problems.throw_if_any();
    return read_layout_table(std::move(*table), file, options, problems);
}

}  // namespace

LayoutFile read_layout_table(toml::table table, const std::string& file,
                             const LayoutOptions& options, Problems& problems) {
    TableReader top(table, {}, problems);
    const TraitTable traits = read_traits(top, options);
    Draft draft{{}, traits};
    draft.layout.path = file;
    read_heading(top, draft.layout);
    read_sections(top, draft);
    top.finish();
    problems.throw_if_any();
    std::string text = self_contained(std::move(table), draft);
    return {std::move(draft.layout), std::move(text), traits.text(), problems.warnings(),
            problems.opened()};
}

LayoutFile read_layout(const fs::path& path, const LayoutOptions& options) {
    Problems problems;
    return read_table(resolve_layout(path, options.changes, problems), path.string(), options,
                      problems);
}

LayoutFile read_layout_text(std::string_view text, const std::string& file,
                            const LayoutOptions& options) {
    Problems problems;
    return read_table(resolve_layout_text(text, file, options.changes, problems), file, options,
                      problems);
}

}  // namespace bedshade
