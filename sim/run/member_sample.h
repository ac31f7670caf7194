// One member of an ensemble: the layout as it may really be, within what is known of its figures.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "model/reef/layout.h"

#include "sim/run/forecast.h"

namespace bedshade {

/// One quantity as a member has it.
struct SampledValue {
    std::string name;    ///< in words: "growth of montipora-capricornis"
    double score = 0.0;  ///< normal score: 0 is the best estimate, +-1.645 the ends of 90 %
};

struct MemberSample {
    Layout layout;
    double output_factor = 1.0;       ///< multiplies every lamp
    std::vector<SampledValue> drawn;  ///< the same quantities in the same order for every member
};

/// Member 0 is the layout as it stands, bit for bit, with every score 0. The others draw each
/// quantity from a stream of its own, named by what it is and not by its place in a list: a coral
/// of another kind in the tank does not change how this one grows. Scores stay within +-3.
MemberSample sample_member(const Layout& layout, std::uint64_t seed, std::uint32_t member);

/// The member that `options` name, whose lamps they then scale: what a forecast of it takes.
MemberSample sample_member(const Layout& layout, RunOptions& options);

/// `median` at score 0, `low` and `high` at -+1.645 (5 and 95 %), each half log-normal. Figures
/// that are not positive are left at the median.
double spread_at(const Spread& spread, double score);

}  // namespace bedshade
