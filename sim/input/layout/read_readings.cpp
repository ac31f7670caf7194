// Readings of a light meter.
#include "sim/base/calendar.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostReadings = 10000;

void read_reading(TableReader& in, LayoutBuilder& builder) {
    Reading reading;
    if (in.point("at", reading.at_m, Need::required)) in_water(in, "at", reading.at_m, builder);
    in.number("ppfd", reading.ppfd_umol_m2_s, {0.0, 5000.0}, "umol/m2/s", Need::required);
    CalendarDay on;
    if (in.date("on", on)) reading.on_d = days_since(builder.layout.season.start, on);
    in.choice<Sensor>("sensor", reading.sensor,
                      {{"planar", Sensor::planar}, {"scalar", Sensor::scalar}});
    builder.layout.readings.push_back(reading);
}

}  // namespace

void read_readings(TableReader& top, LayoutBuilder& builder) {
    for_each_item(top, "reading", kMostReadings,
                  [&](TableReader& item) { read_reading(item, builder); });
}

}  // namespace bedshade
