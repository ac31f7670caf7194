// Published observations of corals, each beside the model's value.
#pragma once

#include <string>
#include <vector>

namespace bedshade::test {

/// One observation that the model can express.
struct Observation {
    std::string what;    ///< what was observed, and what is compared
    std::string source;  ///< author and year
    std::string unit;
    double low = 0.0, high = 0.0;  ///< observed range, ends included
    double model = 0.0;            ///< the model's value, with the built-in trait table
    std::string remark;            ///< why it disagrees, or a limit of the comparison

    bool agrees() const { return model >= low && model <= high; }
};

/// An observation that the model cannot express, and why.
struct LeftOut {
    std::string what, source, why;
};

std::vector<Observation> observations();
std::vector<LeftOut> left_out();

/// Both lists as Markdown: a page for the guides.
std::string observations_page();

}  // namespace bedshade::test
