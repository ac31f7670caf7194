#include "sim/advice/cut_flags.h"

#include <algorithm>

#include "sim/advice/cuts.h"

namespace bedshade {
namespace {

bool on_bed(const Layout& layout, const Flag& flag) {
    return layout.colonies[static_cast<std::size_t>(flag.colony)].on_bed();
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

bool is_among(const std::vector<Flag>& flags, const Flag& flag) {
    return std::any_of(flags.begin(), flags.end(), [&](const Flag& f) {
        return f.kind == flag.kind && f.colony == flag.colony;
    });
}

bool can_be_kept_away(const Layout& layout, const std::vector<Flag>& flags, const Flag& flag) {
    if (!colony_to_cut(layout, flag)) return false;
    return !is_of_light(flag.kind) || !was_too_dim(flags, flag);
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
    if (colony_to_cut(layout, flag))
        return is_of_light(flag.kind) ? "its spot was too dim before" : "";
    switch (flag.kind) {
        case FlagKind::too_dim:
            return "its spot is too dim even with every neighbour as it was set";
        case FlagKind::light_short:
        case FlagKind::starved:
            return flag.culprit_kind == CulpritKind::colony
                       ? "the coral that shades it is of a kind that is not cut"
                       : "its spot is too dim: the light it lacks is no neighbour's";
        case FlagKind::stung:
        case FlagKind::overgrown:
            return "both are of kinds that are not cut; one has to move";
        case FlagKind::outgrown:
            return "it is of a kind that is not cut";
        case FlagKind::too_bright:
            return "a cut takes no light away";
        case FlagKind::buried:
            return "a cut does not hold sand back";
        case FlagKind::flow_poor:
        case FlagKind::flow_harsh:
            return "cuts are not taken to change the flow";
        case FlagKind::fallen:
        case FlagKind::strayed:
            return "a cut does not hold a loose coral in its place";
        case FlagKind::irritated:
            break;
    }
    return "no cut changes that";
}

std::optional<Flag> first_to_answer_for(const Layout& layout, const std::vector<Flag>& flags,
                                        const std::vector<Flag>& without_cuts) {
    for (const Flag& flag : flags) {
        if (!on_bed(layout, flag) || flag.kind == FlagKind::too_dim) continue;
        if (can_be_kept_away(layout, flags, flag)) return flag;
        const bool of_dim_spot = is_of_light(flag.kind) && was_too_dim(flags, flag);
        if (!of_dim_spot && !is_among(without_cuts, flag)) return flag;
    }
    return std::nullopt;
}

std::vector<Flag> left_alone(const Layout& layout, const std::vector<Flag>& flags) {
    std::vector<Flag> left;
    for (const Flag& flag : flags)
        if (on_bed(layout, flag) && !can_be_kept_away(layout, flags, flag)) left.push_back(flag);
    return left;
}

}  // namespace bedshade
