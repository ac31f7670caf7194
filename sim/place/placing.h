// Assesses every kind at every site of the bed: which are suitable where, and the best site of
// each.
#pragma once

#include <optional>
#include <vector>

#include "sim/advice/bed_forecast.h"
#include "sim/advice/result_cache.h"
#include "sim/advice/site_assessment.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

/// The main criterion against a kind at a site.
enum class Against : unsigned char { nothing, taken, ground, infauna, criterion };

/// A site assessment in short.
struct SiteMark {
    Against against = Against::taken;
    Criterion criterion = Criterion::light;  ///< the worst one
    float worst = 0.0F;                      ///< its value on the common scale
};

/// One kind over the whole bed.
struct KindOnBed {
    Candidate candidate;
    std::vector<SiteMark> marks;  ///< by cell; cells under rock are taken
    std::size_t open_cells = 0;   ///< of bare sand
    std::size_t does_cells = 0;
    SiteAssessment best;                  ///< at its best site
    std::optional<SiteAssessment> least;  ///< at its worst site that is not taken
};

/// Each candidate over all cells that are open sand, in the order given. The best site is a
/// suitable one, if there is any, with the greatest worst margin; of equals the first. `go_on` gets
/// the fraction done every few hundred cells; if it returns false, nothing is returned. Those cells
/// are taken from `cache` or stored there; it must belong to this bed alone.
std::vector<KindOnBed> survey(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const ParallelFor& parallel, const GoOn& go_on, ResultCache& cache);
/// The same without the cache.
std::vector<KindOnBed> survey(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const ParallelFor& parallel, const GoOn& go_on);

/// Each candidate at one site.
std::vector<SiteAssessment> at_site(const BedForecast& bed, const Vec2& at_m,
                                    const std::vector<Candidate>& candidates);

/// Suitable ones first, each group by its worst margin, best first: indices into `assessments`.
std::vector<std::size_t> reporting_order(const std::vector<SiteAssessment>& assessments);
/// The same of kinds, each by its best site.
std::vector<std::size_t> reporting_order(const std::vector<KindOnBed>& kinds);

}  // namespace bedshade
