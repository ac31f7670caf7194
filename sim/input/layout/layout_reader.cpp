#include "sim/input/layout/layout_reader.h"

#include <fmt/format.h>
#include <optional>
#include <sstream>
#include <utility>

#include "sim/input/layout/layout_table.h"
#include "sim/input/layout/resolve.h"
#include "sim/input/layout/sections.h"
#include "sim/input/mesh/embedded_mesh.h"
#include "sim/input/text/diagnostics.h"
#include "sim/input/text/table_reader.h"
#include "sim/input/traits/trait_files.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

constexpr int kFormat = 1;

/// The table the run starts from, the layout's own rows over it, the command line's over those.
TraitTable read_traits(TableReader& top, const LayoutOptions& options) {
    TraitTable traits;
    if (options.traits_text)
        traits.overlay(*options.traits_text, "traits");
    else
        traits = builtin_traits();
    const auto* list = top.node("traits");
    if (list && !list->is_array())
        top.error("traits",
                  fmt::format("traits is {}, but must be a list of files", describe(*list)),
                  "write traits = [\"file.csv\"]");
    if (list && list->is_array())
        for (const auto& item : *list->as_array()) {
            if (const auto file = item.value<std::string_view>())
                overlay_file(path_beside(item, *file), place_of(item), traits, top.diagnostics());
            else
                top.diagnostics().error(place_of(item), "traits must name files, in quotes");
        }
    for (const auto& path : options.trait_files)
        overlay_file(path, {path.string()}, traits, top.diagnostics());
    return traits;
}

void read_heading(TableReader& top, Layout& layout) {
    int format = kFormat;
    const bool given = top.whole_number("format", format, 1, 1000);
    if (!top.has("format"))
        top.diagnostics().error(top.place(), "the layout has no format",
                                fmt::format("begin it with format = {}", kFormat));
    if (given && format != kFormat)
        top.error("format", fmt::format("format {} is newer than this program", format),
                  fmt::format("this program reads format {}", kFormat));
    top.text("title", layout.title);
    top.node("extends");  // known, though it is resolved and gone by now
}

void read_sections(TableReader& top, LayoutBuilder& builder) {
    read_season(top, builder);
    read_tank(top, builder);
    read_substrate(top, builder);
    read_water(top, builder);
    read_lamps(top, builder);
    read_rocks(top, builder);
    read_pumps(top, builder);
    read_inhabitants(top, builder);
    read_colonies(top, builder);
    read_readings(top, builder);
    read_actions(top, builder);
    read_measured(top, builder);
    check_crowding(top, builder);
}

toml::array numbers(const std::vector<double>& values) {
    toml::array list;
    for (const double value : values) list.push_back(value);
    return list;
}

/// Puts spectra and photometry read from files into the layout itself.
void make_lamps_self_contained(toml::table& table, const LayoutBuilder& builder) {
    auto* lamps = table["lamp"].as_array();
    for (std::size_t i = 0; lamps && i < lamps->size(); ++i) {
        auto& lamp = *(*lamps)[i].as_table();
        if (lamp.contains("photometry")) {
            lamp.erase("photometry");
            lamp.insert("photometry_text", builder.photometry[i]->text);
        }
        if (!lamp.contains("spectrum_file")) continue;
        const auto& points = *builder.layout.lamps[i].spectrum_table;
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
std::string self_contained(toml::table table, const LayoutBuilder& builder) {
    table.erase("traits");
    make_lamps_self_contained(table, builder);
    make_rocks_self_contained(table, builder.meshes);
    std::ostringstream out;
    out << table << '\n';
    return out.str();
}

LayoutFile read_table(std::optional<toml::table> table, const std::string& file,
                      const LayoutOptions& options, Diagnostics& diagnostics) {
    if (table && table->empty())
        diagnostics.error({file}, "this file has no layout in it",
                          "`bedshade new` writes one to start from");
    if (!table || table->empty()) diagnostics.throw_if_any();
    return read_layout_table(std::move(*table), file, options, diagnostics);
}

}  // namespace

LayoutFile read_layout_table(toml::table table, const std::string& file,
                             const LayoutOptions& options, Diagnostics& diagnostics) {
    TableReader top(table, {}, diagnostics);
    const TraitTable traits = read_traits(top, options);
    LayoutBuilder builder{{}, traits};
    builder.layout.path = file;
    read_heading(top, builder.layout);
    read_sections(top, builder);
    top.finish();
    diagnostics.throw_if_any();
    std::string text = self_contained(std::move(table), builder);
    std::shared_ptr<const Checkpoint> checkpoint;
    if (builder.layout.season.from_d > 0.0)
        checkpoint = std::make_shared<const Checkpoint>(std::move(builder.checkpoint));
    return {std::move(builder.layout), std::move(checkpoint), std::move(text), traits.text(),
            diagnostics.warnings(),    diagnostics.opened()};
}

LayoutFile read_layout(const fs::path& path, const LayoutOptions& options) {
    Diagnostics diagnostics;
    return read_table(resolve_layout(path, options.changes, diagnostics), path.string(), options,
                      diagnostics);
}

LayoutFile read_layout_text(std::string_view text, const std::string& file,
                            const LayoutOptions& options) {
    Diagnostics diagnostics;
    return read_table(resolve_layout_text(text, file, options.changes, diagnostics), file, options,
                      diagnostics);
}

}  // namespace bedshade
