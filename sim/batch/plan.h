// The runs of a study, each worked out from its number: the list of them is never made.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "sim/batch/layout_cache.h"
#include "sim/batch/study.h"

namespace bedshade {

/// More runs than this are refused.
inline constexpr std::uint64_t kMostRuns = 1'000'000;

/// One run: a layout and its overlays.
struct PlannedRun {
    std::size_t layout = 0;
    std::vector<std::pair<std::string, std::string>> settings;  ///< name and value, to be read
    std::vector<Overlay> layers;
    std::string layers_key;  ///< identifies the layers
};

/// Every layout with every change with every combination of listed and stepped values, and with
/// every sampled point; the last key of the study changes first.
class Plan {
  public:
    /// Throws InputError when there are more than kMostRuns, saying how many, or too many keys are
    /// sampled.
    Plan(Study study, const LayoutOptions& options);

    const Study& study() const { return study_; }
    std::uint64_t runs() const { return runs_; }
    PlannedRun run(std::uint64_t number) const;
    /// SHA-256 of everything that determines the run's results, the model's version included.
    std::string key(const PlannedRun& run);
    /// The layout of the run. Throws InputError.
    LayoutFile layout(const PlannedRun& run);
    const std::string& layout_name(const PlannedRun& run) const {
        return layouts_.name(run.layout);
    }
    /// SHA-256 of the whole plan.
    std::string fingerprint();

    /// Throws InputError when the study's base cannot be read, or when every value of one of its
    /// keys is refused on its own (a key that there is not, a unit that does not fit): that is a
    /// slip in the study. A combination that is invalid is that run's own failure.
    void check();

  private:
    std::uint64_t size_of(const Varied& varied) const;
    std::string value_of(const Varied& varied, std::uint64_t at) const;
    void set(const Varied& varied, const std::string& value, PlannedRun& run) const;
    void check_name(const Varied& varied);
    void check_key(const Varied& varied);

    Study study_;
    LayoutCache layouts_;
    std::vector<std::string> change_keys_;  // [change]
    std::uint64_t runs_ = 0;
};

}  // namespace bedshade
