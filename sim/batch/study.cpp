#include "sim/batch/study.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>
#include <sstream>
#include <toml++/toml.h>

#include "sim/base/text.h"
#include "sim/batch/span_text.h"
#include "sim/input/layout/resolve.h"
#include "sim/input/layout/sections.h"
#include "sim/input/text/table_reader.h"
#include "sim/input/text/text_file.h"
#include "sim/input/text/toml_file.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

constexpr int kFormat = 1;
constexpr int kMostMonths = 240;
constexpr int kMostMembers = 1000;
constexpr int kMostSteps = 1'000'000;
constexpr std::size_t kMostItems = 100'000;

/// One value as TOML text that fits behind `key = `.
std::string value_text(const toml::node& node) {
    toml::table holder;
    node.visit([&](const auto& value) { holder.insert("v", value); });
    if (auto* table = holder["v"].as_table()) table->is_inline(true);
    std::ostringstream out;
    out << holder;
    return out.str().substr(std::string("v = ").size());
}

void read_heading(TableReader& top, Study& study) {
    int format = kFormat;
    const bool given = top.whole_number("format", format, 1, 1000);
    if (!top.has("format"))
        top.diagnostics().error(top.place(), "the study has no format",
                                fmt::format("begin it with format = {}", kFormat));
    if (given && format != kFormat)
        top.error("format", fmt::format("format {} is newer than this program", format),
                  fmt::format("this program reads format {}", kFormat));
    top.text("title", study.title);
    int months = 0, seed = 1;
    if (top.whole_number("months", months, 1, kMostMonths)) study.months = months;
    if (top.whole_number("seed", seed, 0, 2'000'000'000))
        study.seed = static_cast<std::uint64_t>(seed);
    top.whole_number("members", study.members, 1, kMostMembers);
}

/// A file named under `key`, from the folder of the study.
std::optional<fs::path> file_under(TableReader& from, const char* key, Need need) {
    std::string written;
    if (!from.text(key, written, need)) return std::nullopt;
    return path_beside(*from.node(key), written);
}

void read_layouts(TableReader& top, Study& study) {
    if (const auto base = file_under(top, "base", Need::optional))
        study.layouts.push_back({base->filename().string(), *base});
    for_each_item(top, "layout", kMostItems, [&](TableReader& item) {
        std::string name;
        item.text("name", name);
        if (const auto file = file_under(item, "file", Need::required))
            study.layouts.push_back({name.empty() ? file->filename().string() : name, *file});
    });
    if (study.layouts.empty() && !top.has("base") && !top.has("layout"))
        top.diagnostics().error(top.place(), "the study names no layout",
                                "write base = \"my_tank.toml\"");
}

void add_layer(const toml::node& named, StudyChange& change, Diagnostics& diagnostics) {
    const auto written = named.value<std::string_view>();
    if (!written) {
        diagnostics.error(place_of(named), "files must name change files, in quotes");
        return;
    }
    const fs::path path = path_beside(named, *written);
    if (auto text = read_text_file(path, place_of(named), diagnostics))
        if (parse_toml(*text, path.string(), diagnostics))
            change.layers.push_back({std::move(*text), path.string()});
}

void read_changes(TableReader& top, Study& study) {
    for_each_item(top, "change", kMostItems, [&](TableReader& item) {
        StudyChange change;
        const auto* file = item.node("file");
        const auto* files = item.node("files");
        if (file) add_layer(*file, change, item.diagnostics());
        if (files && files->is_array())
            for (const auto& each : *files->as_array()) add_layer(each, change, item.diagnostics());
        else if (files)
            item.error("files", "files must be a list of change files");
        const bool named = item.text("name", change.name);
        if (!named && !change.layers.empty())
            change.name = fs::path(change.layers.front().file).filename().string();
        if (!named && !file && !files)
            item.diagnostics().error(item.place(), "this change names no file and has no name",
                                     "name = \"as it is\" alone leaves the layout as it is");
        study.changes.push_back(std::move(change));
    });
}

void read_values(TableReader& item, const toml::node& node, Varied& varied) {
    const auto* list = node.as_array();
    if (!list || list->empty()) {
        item.error("values", fmt::format("values is {}, but must be a list of at least one value",
                                         list ? "empty" : describe(node)));
        return;
    }
    for (const auto& value : *list) varied.values.push_back(value_text(value));
}

void read_span(TableReader& item, Varied& varied) {
    const auto *from = item.node("from"), *to = item.node("to");
    if (!from || !to) {
        item.diagnostics().error(item.place(), "this [[vary]] has no values",
                                 "give values = [...], or from, to and steps");
        return;
    }
    std::string why;
    auto span = span_between(*from, *to, why);
    if (!span) {
        item.error("to", why);
        return;
    }
    if (!item.whole_number("steps", span->steps, 2, kMostSteps)) span->steps = 0;
    varied.span = std::move(*span);
}

void read_varied(TableReader& item, Study& study) {
    Varied varied;
    std::string key, why;
    if (item.text("key", key, Need::required)) {
        varied.place = item.place("key");
        if (const auto path = parse_key_path(key, why))
            varied.key = *path;
        else
            item.error("key",
                       fmt::format("`{}` is not a key of a layout: {}", escape_control(key), why));
    }
    varied.name = key;
    item.text("name", varied.name);
    if (const auto* values = item.node("values")) {
        item.misplaced({"from", "to", "steps"}, "values are already listed");
        read_values(item, *values, varied);
    } else {
        read_span(item, varied);
    }
    study.varied.push_back(std::move(varied));
}

void read_sample(TableReader& top, Study& study) {
    const bool sampled = std::any_of(study.varied.begin(), study.varied.end(),
                                     [](const Varied& varied) { return varied.sampled(); });
    if (auto section = top.child("sample")) {
        Sample sample;
        int runs = 0;
        section->whole_number("runs", runs, 1, 1'000'000, Need::required);
        section->choice<SampleKind>("kind", sample.kind,
                                    {{"even", SampleKind::even}, {"random", SampleKind::random}});
        section->finish();
        sample.runs = static_cast<std::uint64_t>(std::max(0, runs));
        study.sample = sample;
        if (!sampled)
            top.error("sample", "nothing is sampled in this study",
                      "a [[vary]] with from and to, and no steps, is sampled");
    } else if (sampled) {
        for (const Varied& varied : study.varied)
            if (varied.sampled())
                top.diagnostics().error(
                    varied.place, fmt::format("`{}` has no steps", escape_control(varied.name)),
                    "give steps, or a [sample] to sample the range");
    }
}

void refuse_twins(TableReader& top, const Study& study) {
    std::set<std::string> names;
    std::set<std::vector<std::string>> keys;
    for (const Varied& varied : study.varied) {
        if (varied.key.keys.empty()) continue;
        if (!names.insert(varied.name).second)
            top.diagnostics().error(varied.place, fmt::format("two [[vary]] are named \"{}\"",
                                                              escape_control(varied.name)));
        else if (!keys.insert(varied.key.keys).second)
            top.diagnostics().error(varied.place, "another [[vary]] sets the same key");
    }
    for (const char* taken : {"layout", "change"})
        for (const Varied& varied : study.varied)
            if (varied.name == taken)
                top.diagnostics().error(varied.place,
                                        fmt::format("no [[vary]] can be named \"{}\"", taken));
}

template <class Named>
void refuse_same_names(const std::vector<Named>& list, const char* kind, const TableReader& top,
                       Diagnostics& diagnostics) {
    std::set<std::string> names;
    for (const Named& item : list)
        if (!names.insert(item.name).second)
            diagnostics.error(
                top.place(),
                fmt::format("two of [[{}]] are named \"{}\"", kind, escape_control(item.name)),
                "give each a name of its own");
}

}  // namespace

Study read_study(const fs::path& path) {
    Diagnostics diagnostics;
    Study study;
    study.file = path.string();
    const auto text = read_text_file(path, {path.string()}, diagnostics);
    const auto table = text ? parse_toml(*text, path.string(), diagnostics) : std::nullopt;
    if (!table) diagnostics.throw_if_any();
    TableReader top(*table, "a study", diagnostics);
    read_heading(top, study);
    read_layouts(top, study);
    read_changes(top, study);
    for_each_item(top, "vary", kMostItems, [&](TableReader& item) { read_varied(item, study); });
    read_sample(top, study);
    refuse_twins(top, study);
    refuse_same_names(study.layouts, "layout", top, diagnostics);
    refuse_same_names(study.changes, "change", top, diagnostics);
    top.finish();
    diagnostics.throw_if_any();
    return study;
}

bool is_study(const fs::path& path) {
    Diagnostics ignored;
    const auto text = read_text_file(path, {path.string()}, ignored);
    const auto table = text ? parse_toml(*text, path.string(), ignored) : std::nullopt;
    if (!table) return false;
    return table->contains("base") || table->contains("vary") || table->contains("layout") ||
           table->contains("change");
}

}  // namespace bedshade
