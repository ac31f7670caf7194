// Suitability of the ground for a coral: attachment, grain, spreading, and infauna.
#pragma once

#include "sim/advice/site.h"
#include "sim/advice/site_assessment.h"

namespace bedshade {

/// Rubble from this size on counts as rock [m] (a judgement, no source).
inline constexpr double kRubble_m = 0.005;

/// Whether a kind can attach to ground of this grain: rock dwellers need at least rubble.
bool holds_here(const Taxon& taxon, double grain_m);

/// Whether the outline of a kind can widen on ground of a grain: sheets and mats must cross it, all
/// other forms stand over it.
bool spreads_here(const Taxon& taxon, double grain_m);

/// How far the outline of a kind can widen from a site, by sector, before it meets ground that it
/// does not cross [m]; infinite for all but sheets and mats.
RadialProfile ground_limits_m(const Layout& layout, const Vec2& site_m, const Taxon& taxon);

/// Whether animals that live at coral bases are near a site.
bool lives_at(const Inhabitant& inhabitant, const Vec2& site_m);

/// Fills in grain, attachment and infauna.
void judge_ground(const Layout& layout, const Site& site, const Candidate& candidate,
                  SiteAssessment& assessment);

}  // namespace bedshade
