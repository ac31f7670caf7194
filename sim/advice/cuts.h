// Cuts: what a plan of trimming is made of, and what the shears can and cannot do.
#pragma once

#include <vector>

#include "model/reef/layout.h"

namespace bedshade {

/// One colony cut back to a circle on one day.
struct Cut {
    int colony = 0;      ///< index into Layout::colonies
    double day_d = 0.0;  ///< a whole day of the run
    double to_m = 0.0;   ///< diameter

    bool operator==(const Cut&) const = default;
};

/// The result of a cut in one run.
struct CutDone {
    int colony = 0;
    double day_d = 0.0;
    double before_m = 0.0, after_m = 0.0;  ///< across
    double cut_m2 = 0.0;                   ///< planar area that came off; 0: nothing reached so far
};

/// Whether a coral of this form is cut at all: single polyps and discs that lie loose are not
/// (common practice, no source).
bool is_cut(Form form);
bool is_cut(const Layout& layout, int colony);

/// The first whole day in a month of the run, from 1: when cuts are planned for.
double first_day_of(int month);
/// The latest month whose first day lies before `day_d`; 0 when there is none.
int last_month_before(double day_d);

/// The layout with these actions added.
Layout with_cuts(const Layout& layout, const std::vector<Cut>& cuts);

/// Every coral that is cut, back to the size it was set with, every three months.
std::vector<Cut> quarterly_cuts(const Layout& layout);

}  // namespace bedshade
