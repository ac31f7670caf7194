// What a person is reported: sentences and small tables about a layout and a forecast.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "sim/run/calibration.h"
#include "sim/run/event.h"
#include "sim/run/snapshot.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {

/// The data of a run for its summary.
struct ForecastSummary {
    Snapshot first, last;
    std::vector<Flag> flags;
    std::vector<EventRecord> applied_actions;      ///< what the keeper did
    std::vector<EventRecord> fusions;              ///< cuttings that have grown together
    std::vector<double> day_d;                     ///< of every snapshot
    std::vector<std::vector<float>> light_margin;  ///< [colony][snapshot]: DLI over need
    double output_scale = 1.0;
};

/// Collects the data of a summary during a run.
class SummaryKeeper final : public SnapshotSink {
  public:
    explicit SummaryKeeper(ForecastSummary& summary) : summary_(summary) {}
    void take(const Snapshot& snapshot) override;

  private:
    ForecastSummary& summary_;
};

/// How the lamps' output is known: the calibration sentence, or the warning that it is assumed.
std::string lamp_output_text(const Layout& layout, const Calibration& calibration);

/// A table of readings against the model; empty without readings.
std::string readings_text(const Calibration& calibration);

/// One flag in words: "month 14 (2028-02-20): 'ledge plate' (laminar montipora) …".
std::string flag_text(const Layout& layout, const Flag& flag);

/// The name of the culprit of a flag; empty if there is none.
std::string culprit_name(const Layout& layout, const Flag& flag);

/// A value with as many decimals as tell whether it lies within a range whose ends are reported by
/// "{:g}": one at least, six at most.
std::string beside_range(double value, double low, double high);

/// A text as a table has room for it: printable, in at most `width` bytes, cut between characters.
std::string truncate(const std::string& text, std::size_t width);

/// The first of the scientific names that a row for several genera carries.
std::string short_name(const Taxon& taxon);

/// Flags in the order they are reported: a plate that starves the bed before all others, then by
/// day.
std::vector<Flag> reporting_order(const Layout& layout, std::vector<Flag> flags);

/// The headline. `flags` are in reporting order.
std::string verdict_text(const Layout& layout, const std::vector<Flag>& flags);

/// The whole summary of a forecast: flags first (a plate that starves the bed before all others),
/// then the bed's corals. `emphasise` wraps what matters most (bold on a terminal).
std::string forecast_text(const Layout& layout, const ForecastSummary& summary,
                          const std::function<std::string(const std::string&)>& emphasise);

/// The same as one JSON document (format 1). The ensemble is of `members` runs, the summary's the
/// first of them; a flag that only others raised has no month of its own.
std::string forecast_json(const Layout& layout, const ForecastSummary& summary, std::uint64_t seed,
                          int members, const Ensemble& ensemble,
                          const std::vector<std::string>& files,
                          const std::vector<std::string>& warnings);

/// The bed's light as a map of numbers, back of the tank at the top.
std::string bed_map_text(const BedGrid& grid, const std::vector<double>& ppfd_umol_m2_s);

/// Cautions for handling the contents of the layout, each once.
std::string cautions_text(const Layout& layout);

}  // namespace bedshade
