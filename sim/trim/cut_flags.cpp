#include "sim/trim/cut_flags.h"

#include <algorithm>
#include <fmt/format.h>

#include "model/growth/stability.h"
#include "model/growth/walking.h"

#include "sim/advice/cuts.h"
#include "sim/base/text.h"

namespace bedshade {
namespace {

bool on_bed(const Layout& layout, const Flag& flag) {
    return layout.colonies[static_cast<std::size_t>(flag.colony)].on_bed();
}

const std::string& colony_name(const Layout& layout, int colony) {
    return layout.colonies[static_cast<std::size_t>(colony)].name;
}

bool is_of_light(FlagKind kind) {
    return kind == FlagKind::light_short || kind == FlagKind::starved;
}

/// Whether the flag's coral had been found too dim where it stands by then.
bool was_too_dim(const std::vector<Flag>& flags, const Flag& flag) {
    return std::any_of(flags.begin(), flags.end(), [&](const Flag& f) {
        return f.kind == FlagKind::too_dim && f.colony == flag.colony && f.day_d <= flag.day_d;
    });
}

/// The same flag of the same coral in another run.
const Flag* twin_of(const std::vector<Flag>& flags, const Flag& flag) {
    const auto twin = std::find_if(flags.begin(), flags.end(), [&](const Flag& f) {
        return f.kind == flag.kind && f.colony == flag.colony;
    });
    return twin == flags.end() ? nullptr : &*twin;
}

/// Whether a coral walks farther in a month than it is wide: it may turn up beside anyone.
bool roams(const Layout& layout, int colony) {
    const Colony& coral = layout.colonies[static_cast<std::size_t>(colony)];
    const Taxon& taxon = layout.taxon_of(coral);
    return is_loose(taxon, coral) &&
           mobility_m_d(taxon, coral.diameter_m) * kDaysPerMonth > coral.diameter_m;
}

/// Whether it was met on somebody's walk.
bool is_contact_of_walker(const Layout& layout, const Flag& flag) {
    if (flag.kind != FlagKind::stung && flag.kind != FlagKind::overgrown) return false;
    return roams(layout, flag.colony) ||
           (flag.culprit_kind == CulpritKind::colony && roams(layout, flag.culprit));
}

/// Whether a flag never counts against a plan: a spot too dim from the start is the layout's, that
/// a coral which is not cut grows to the size of its kind is no harm done, and a loose one walks or
/// falls of itself and meets whom it will.
bool is_no_plans(const Layout& layout, const Flag& flag) {
    const bool of_itself = flag.kind == FlagKind::fallen || flag.kind == FlagKind::strayed;
    return !on_bed(layout, flag) || of_itself || is_contact_of_walker(layout, flag) ||
           flag.kind == FlagKind::too_dim ||
           (flag.kind == FlagKind::outgrown && !is_cut(layout, flag.colony));
}

/// With the culprit of another flag.
Flag with_cause_of(Flag flag, const Flag& other) {
    flag.culprit_kind = other.culprit_kind;
    flag.culprit = other.culprit;
    flag.share = other.share;
    return flag;
}

}  // namespace

std::optional<int> colony_to_cut(const Layout& layout, const Flag& flag) {
    const bool by_neighbour = flag.culprit_kind == CulpritKind::colony;
    switch (flag.kind) {
        case FlagKind::light_short:
        case FlagKind::starved:
            if (by_neighbour && is_cut(layout, flag.culprit)) return flag.culprit;
            break;
        case FlagKind::stung:
        case FlagKind::overgrown:
            if (is_contact_of_walker(layout, flag)) break;
            if (by_neighbour && is_cut(layout, flag.culprit)) return flag.culprit;
            if (is_cut(layout, flag.colony)) return flag.colony;
            break;
        case FlagKind::outgrown:
            if (is_cut(layout, flag.colony)) return flag.colony;
            break;
        case FlagKind::too_dim:
        case FlagKind::too_bright:
        case FlagKind::buried:
        case FlagKind::flow_poor:
        case FlagKind::flow_harsh:
        case FlagKind::irritated:
        case FlagKind::fallen:
        case FlagKind::strayed:
            break;
    }
    return std::nullopt;
}

std::string why_no_cut_helps(const Layout& layout, const Flag& flag) {
    if (colony_to_cut(layout, flag)) return "";
    switch (flag.kind) {
        case FlagKind::too_dim:
            return flag.culprit_kind == CulpritKind::colony && is_cut(layout, flag.culprit)
                       ? fmt::format(
                             "its spot is too dark even with every neighbour at its first size; a "
                             "smaller '{}' from the first day might help",
                             escape_control(colony_name(layout, flag.culprit)))
                       : "its spot is too dark even with every neighbour at its first size";
        case FlagKind::light_short:
        case FlagKind::starved:
            return flag.culprit_kind == CulpritKind::colony
                       ? "the coral that shades it is of a kind that is not cut"
                       : "its spot is too dark: no neighbour takes the light it lacks";
        case FlagKind::stung:
        case FlagKind::overgrown:
            return is_contact_of_walker(layout, flag)
                       ? "one of the two walks up to the other: a fence or more room may help"
                       : "both are of kinds that are not cut; one has to move";
        case FlagKind::outgrown:
            return "it is of a kind that is not cut";
        case FlagKind::too_bright:
            return "a cut does not reduce the light";
        case FlagKind::buried:
            return "a cut does not stop sand";
        case FlagKind::flow_poor:
        case FlagKind::flow_harsh:
            return "the model assumes that cuts do not change the flow";
        case FlagKind::fallen:
        case FlagKind::strayed:
            return "a cut does not keep a loose coral in place";
        case FlagKind::irritated:
            break;
    }
    return "no cut changes that";
}

std::optional<Flag> first_counted_flag(const Layout& layout, const std::vector<Flag>& flags,
                                       const std::vector<Flag>& without_cuts) {
    for (const Flag& flag : flags) {
        if (is_no_plans(layout, flag)) continue;
        if (colony_to_cut(layout, flag)) return flag;
        const Flag* const twin = twin_of(without_cuts, flag);
        if (twin != nullptr && colony_to_cut(layout, *twin)) return with_cause_of(flag, *twin);
        const bool of_dim_site = is_of_light(flag.kind) && was_too_dim(flags, flag);
        if (twin == nullptr && !of_dim_site) return flag;
    }
    return std::nullopt;
}

bool depends_on_run_without_cuts(const Layout& layout, const std::vector<Flag>& flags) {
    return std::any_of(flags.begin(), flags.end(), [&](const Flag& flag) {
        return !is_no_plans(layout, flag) && !colony_to_cut(layout, flag);
    });
}

std::vector<Flag> left_alone(const Layout& layout, const std::vector<Flag>& flags,
                             const std::vector<Flag>& without_cuts) {
    std::vector<Flag> left;
    for (const Flag& flag : flags) {
        const Flag* const twin = twin_of(without_cuts, flag);
        const bool could = colony_to_cut(layout, flag).has_value() ||
                           (twin != nullptr && colony_to_cut(layout, *twin));
        if (on_bed(layout, flag) && !could) left.push_back(flag);
    }
    return left;
}

}  // namespace bedshade
