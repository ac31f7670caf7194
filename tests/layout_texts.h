// The beginnings of layouts that tests write as text.
#pragma once

#include <string>

namespace bedshade::test {

/// A tank of 120 x 60 x 55 cm under a lamp; what else there is goes on after this.
inline const std::string kTankUnderLamp = R"(format = 1
[season]
start = 2027-01-01
[tank]
length = "120 cm"
width = "60 cm"
water_depth = "55 cm"
[[lamp]]
name = "left"
position = "30 30 cm"
height = "20 cm"
photon_flux = 450
)";

/// A month in a small black tank, as sections: "format" and "title" go before them.
inline const std::string kSmallTank = R"([season]
start = 2027-01-01
months = 1
step = "14 d"
[tank]
length = "30 cm"
width = "20 cm"
water_depth = "20 cm"
walls = "black"
)";

}  // namespace bedshade::test
