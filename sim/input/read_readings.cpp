// Readings of a light meter.
#include "sim/input/places.h"
#include "sim/input/sections.h"
#include "sim/season/calendar.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostReadings = 10000;

void read_reading(TableReader& in, Draft& draft) {
    Reading reading;
    if (in.point("at", reading.at_m, Need::required)) in_water(in, "at", reading.at_m, draft);
    in.number("ppfd", reading.ppfd_umol_m2_s, {0.0, 5000.0}, "umol/m2/s", Need::required);
    CalendarDay on;
    if (in.date("on", on)) reading.on_d = season_day_of(draft.layout.season.start, on);
    in.choice<Sensor>("sensor", reading.sensor,
                      {{"planar", Sensor::planar}, {"scalar", Sensor::scalar}});
    draft.layout.readings.push_back(reading);
}

}  // namespace

void read_readings(TableReader& top, Draft& draft) {
    for_each_item(top, "reading", kMostReadings,
                  [&](TableReader& item) { read_reading(item, draft); });
}

}  // namespace bedshade
