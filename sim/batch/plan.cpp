#include "sim/batch/plan.h"

#include <algorithm>
#include <fmt/format.h>
#include <toml++/toml.h>

#include "sim/base/model_version.h"
#include "sim/base/number_text.h"
#include "sim/base/sha256.h"
#include "sim/base/text.h"
#include "sim/batch/fingerprint.h"
#include "sim/batch/sampling.h"
#include "sim/batch/span_text.h"
#include "sim/input/layout/layout_table.h"
#include "sim/input/layout/overlay.h"
#include "sim/input/text/toml_file.h"

namespace bedshade {
namespace {

/// Moves when a run is judged or keyed in another way.
constexpr int kRunVersion = 1;

/// Larger products are reported only as more than this.
constexpr std::uint64_t kFar = 1'000'000'000'000'000'000;

[[noreturn]] void refuse(const Study& study, const Place& place, std::string what,
                         std::string help) {
    throw InputError({{Diagnostic::Level::error,
                       place.file.empty() ? study.file : place.file,
                       place.line,
                       place.column,
                       {},
                       std::move(what),
                       std::move(help)}});
}

/// A whole number with its thousands apart.
std::string spaced(std::uint64_t number) {
    std::string digits;
    int count = 0;
    do {
        if (count > 0 && count % 3 == 0) digits += ',';
        digits += static_cast<char>('0' + static_cast<int>(number % 10));
        number /= 10;
        ++count;
    } while (number > 0);
    std::reverse(digits.begin(), digits.end());
    return digits;
}

/// The text of a setting in a table.
std::string shown(std::string value) {
    constexpr std::size_t kLongest = 60, kAsWritten = 15;
    const bool quoted = value.size() >= 2 && (value[0] == '"' || value[0] == '\'') &&
                        value.find('\\') == std::string::npos && value.back() == value.front();
    if (quoted) value = value.substr(1, value.size() - 2);
    // A list's numbers come with all seventeen digits: 0.3 as 0.29999999999999999.
    if (const auto number = number_in(value); number && value.size() > kAsWritten)
        return fmt::format("{}", *number);
    if (value.size() <= kLongest) return value;
    return value.substr(0, valid_utf8_length(std::string_view(value).substr(0, kLongest - 3))) +
           "...";
}

bool takes_nothing_away(const KeyPath& key, const std::string& value) {
    return key.list_keys > 0 && key.last() == "remove" && value == "false";
}

bool names_file(const KeyPath& key) {
    return key.last() == "file" || key.last() == "photometry" || key.last() == "spectrum_file";
}

}  // namespace

Plan::Plan(Study study, const LayoutOptions& options)
    : study_(std::move(study)), layouts_(study_.layouts, options) {
    const auto sampled = std::count_if(study_.varied.begin(), study_.varied.end(),
                                       [](const Varied& varied) { return varied.sampled(); });
    if (sampled > static_cast<std::ptrdiff_t>(kMostSampledKeys))
        refuse(study_, {}, fmt::format("{} keys are sampled together", sampled),
               fmt::format("at most {} can be", kMostSampledKeys));
    std::uint64_t runs = study_.layouts.size();
    const auto times = [&](std::uint64_t more) {
        runs = more > 0 && runs > kFar / more ? kFar : runs * more;
    };
    if (!study_.changes.empty()) times(study_.changes.size());
    for (const Varied& varied : study_.varied) times(size_of(varied));
    if (study_.sample) times(study_.sample->runs);
    if (runs > kMostRuns)
        refuse(study_, {},
               fmt::format("the study would make {}{} runs", runs == kFar ? "more than " : "",
                           spaced(runs)),
               fmt::format("at most {} are allowed; list fewer values, or use [sample]",
                           spaced(kMostRuns)));
    runs_ = runs;
    for (const StudyChange& change : study_.changes) {
        std::string key;
        for (const Overlay& layer : change.layers) key += overlay_fingerprint(layer) + '\n';
        change_keys_.push_back(std::move(key));
    }
}

/// Values in the product; 1 for a key that is sampled.
std::uint64_t Plan::size_of(const Varied& varied) const {
    if (!varied.span) return varied.values.size();
    return static_cast<std::uint64_t>(std::max(1, varied.span->steps));
}

std::string Plan::value_of(const Varied& varied, std::uint64_t at) const {
    if (!varied.span) return varied.values[at];
    return value_along(*varied.span,
                       static_cast<double>(at) / static_cast<double>(varied.span->steps - 1));
}

void Plan::set(const Varied& varied, const std::string& value, PlannedRun& run) const {
    run.settings.emplace_back(varied.name, shown(value));
    if (takes_nothing_away(varied.key, value)) return;
    run.layers.push_back({change_text(varied.key, value), study_.file});
}

PlannedRun Plan::run(std::uint64_t number) const {
    PlannedRun run;
    std::uint64_t rest = number;
    const auto take = [&](std::uint64_t size) {
        const std::uint64_t at = rest % size;
        rest /= size;
        return at;
    };
    const std::uint64_t point = study_.sample ? take(study_.sample->runs) : 0;
    std::vector<std::uint64_t> at(study_.varied.size());
    for (std::size_t i = at.size(); i-- > 0;) at[i] = take(size_of(study_.varied[i]));
    const std::uint64_t change = study_.changes.empty() ? 0 : take(study_.changes.size());
    run.layout = static_cast<std::size_t>(rest);
    if (!study_.changes.empty()) {
        run.settings.emplace_back("change", study_.changes[change].name);
        run.layers = study_.changes[change].layers;
        run.layers_key = change_keys_[change];
    }
    const std::size_t changes = run.layers.size();
    std::size_t sampled = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
        const Varied& varied = study_.varied[i];
        set(varied,
            varied.sampled()
                ? value_along(*varied.span,
                              sampled_fraction(study_.sample->kind, study_.seed, point, sampled++))
                : value_of(varied, at[i]),
            run);
    }
    std::sort(run.layers.begin() + static_cast<std::ptrdiff_t>(changes), run.layers.end(),
              [](const Overlay& a, const Overlay& b) { return a.text < b.text; });
    for (std::size_t i = changes; i < run.layers.size(); ++i)
        run.layers_key += run.layers[i].text + '\n';
    return run;
}

std::string Plan::key(const PlannedRun& run) {
    std::string files;
    for (std::size_t i = 0; i < study_.varied.size(); ++i)
        if (names_file(study_.varied[i].key))
            for (const Overlay& layer : run.layers) files += overlay_fingerprint(layer);
    return sha256_hex(
        fmt::format("bedshade run {}\nmodel {}\nmonths {}\nseed {}\nmembers {}\n"
                    "layout {}\nfiles {}\n{}",
                    kRunVersion, kModelVersion, study_.months.value_or(0), study_.seed,
                    study_.members, layouts_.fingerprint(run.layout), files, run.layers_key));
}

LayoutFile Plan::layout(const PlannedRun& run) {
    const auto base = layouts_.read(run.layout);
    std::vector<Overlay> layers = run.layers;
    if (study_.months)
        layers.push_back({fmt::format("season.months = {}\n", *study_.months), study_.file});
    if (layers.empty()) return *base;
    Diagnostics diagnostics;
    auto table = parse_toml(base->text, layouts_.file_name(run.layout), diagnostics);
    if (!table) diagnostics.throw_if_any();
    for (const Overlay& layer : layers)
        if (auto change = parse_toml(layer.text, layer.file, diagnostics))
            overlay(*table, std::move(*change), diagnostics);
    LayoutOptions options;
    options.traits_text = base->traits_text;
    return read_layout_table(std::move(*table), layouts_.file_name(run.layout), options,
                             diagnostics);
}

std::string Plan::fingerprint() {
    std::string all =
        fmt::format("bedshade plan {}\nmodel {}\nmonths {}\nseed {}\nmembers {}\n", kRunVersion,
                    kModelVersion, study_.months.value_or(0), study_.seed, study_.members);
    for (std::size_t i = 0; i < layouts_.size(); ++i)
        all += fmt::format("layout {} {}\n", layouts_.name(i), layouts_.fingerprint(i));
    for (std::size_t i = 0; i < study_.changes.size(); ++i)
        all += fmt::format("change {}\n{}\n", study_.changes[i].name, change_keys_[i]);
    for (const Varied& varied : study_.varied) {
        all += fmt::format("vary {}\n", varied.name);
        if (varied.span)
            all += change_text(varied.key, value_along(*varied.span, 0.0)) +
                   value_along(*varied.span, 1.0) + fmt::format(" {}\n", varied.span->steps);
        for (const std::string& value : varied.values) all += change_text(varied.key, value);
    }
    if (study_.sample)
        all += fmt::format("sample {} {}\n", static_cast<int>(study_.sample->kind),
                           study_.sample->runs);
    return sha256_hex(all);
}

/// A name that is not in the layout would make a new thing there.
void Plan::check_name(const Varied& varied) {
    if (varied.key.list_keys == 0) return;
    Diagnostics ignored;
    const auto& text = layouts_.read(0)->text;
    const auto table = parse_toml(text, layouts_.file_name(0), ignored);
    if (!table) return;
    const toml::node* list = &*table;
    for (std::size_t i = 0; i < varied.key.list_keys && list != nullptr; ++i)
        list = list->is_table() ? list->as_table()->get(varied.key.keys[i]) : nullptr;
    std::vector<std::string> names;
    if (list != nullptr && list->is_array())
        for (const auto& item : *list->as_array())
            if (const auto* thing = item.as_table())
                names.push_back((*thing)["name"].value_or(std::string()));
    const std::string wanted = varied.key.thing();
    if (std::find(names.begin(), names.end(), wanted) != names.end()) return;
    const std::string near = nearest_name(wanted, names);
    refuse(
        study_, varied.place,
        fmt::format("there is no {} \"{}\" in the layout",
                    varied.key.keys[varied.key.list_keys - 1], escape_control(wanted)),
        near.empty() ? std::string() : fmt::format("did you mean \"{}\"?", escape_control(near)));
}

void Plan::check_key(const Varied& varied) {
    constexpr std::uint64_t kMostTried = 50;
    const std::uint64_t tries = std::min(kMostTried, varied.sampled() ? 2 : size_of(varied));
    std::vector<Diagnostic> first;
    for (std::uint64_t i = 0; i < tries; ++i) {
        PlannedRun run;
        set(varied,
            varied.sampled() ? value_along(*varied.span, static_cast<double>(i))
                             : value_of(varied, i),
            run);
        try {
            layout(run);
            return;
        } catch (const InputError& error) {
            if (first.empty()) first = error.diagnostics();
        }
    }
    refuse(study_, varied.place,
           fmt::format("no value of `{}` is valid: {}", escape_control(varied.name), first[0].what),
           first[0].help);
}

void Plan::check() {
    if (study_.file.empty()) return;
    if (study_.layouts.size() == 1) layouts_.read(0);
    try {
        layouts_.read(0);
    } catch (const InputError&) {
        return;  // one of several layouts: reported with its run
    }
    for (const Varied& varied : study_.varied) {
        if (layouts_.size() == 1) check_name(varied);
        check_key(varied);
    }
}

}  // namespace bedshade
