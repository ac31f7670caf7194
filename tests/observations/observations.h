// Published observations of corals, each beside what the model makes of it.
#pragma once

#include <string>
#include <vector>

namespace bedshade::test {

/// One observation that the model can express.
struct Observation {
    std::string what;    ///< what was seen, and what of it is compared
    std::string source;  ///< author and year
    std::string unit;
    double low = 0.0, high = 0.0;  ///< seen: ends included
    double model = 0.0;            ///< the model's figure, by the built-in trait table
    std::string remark;            ///< why it disagrees, or what it does not show

    bool agrees() const { return model >= low && model <= high; }
};

/// One that it cannot express, and why.
struct LeftOut {
    std::string what, source, why;
};

std::vector<Observation> observations();
std::vector<LeftOut> left_out();

/// Both as Markdown: a page for the guides.
std::string observations_page();

}  // namespace bedshade::test
