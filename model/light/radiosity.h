// Diffuse interreflection by radiosity: what sand, rock, coral and diffuse walls reflect, by way of
// mirroring panes and of total reflection under the surface.
//
//     B = rho (E + F B)
//
// B  exitance of an element, by lamp                 [umol m-2 s-1]  (RadiosityElements)
// rho  its diffuse reflectance                       [1]             (model/reef/reflectance.h)
// E  direct irradiance on it                         [umol m-2 s-1]  (model/light/light_field.h)
// F B  diffuse irradiance on it: sum over elements of form factor times exitance, less what the
//      water between absorbs                         [umol m-2 s-1]
//
// Source: Goral, Torrance, Greenberg & Battaile 1984, eq. 4. F is estimated by Monte Carlo links
// (model/light/transport_links.h) that are traced when the reef has changed, and kept. The equation
// is solved by Jacobi iteration, each pass one more bounce for all; a day starts from the solution
// of the day before. The diffuse part alone is smoothed (model/light/diffuse_smoothing.h).
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "model/base/parallel.h"
#include "model/light/light_field.h"
#include "model/light/transport_links.h"
#include "model/reef/carry_over.h"

namespace bedshade {

/// E: direct plateau light of a day, all as [place][lamp] [umol m-2 s-1].
struct DirectLight {
    std::span<const double> bed, solids;
    std::span<const ColonyLight> colonies;
};

/// B: [element][lamp] [umol m-2 s-1].
using Exitance = std::vector<double>;

class Radiosity {
  public:
    Radiosity(const Layout& layout, const BedGrid& bed);

    /// Pieces of rock and wall whose direct light the equation needs.
    const std::vector<LightReceptor>& solids() const { return tracer_.solids().receptors(); }

    /// Puts a colony as it is, with its live patches, or nothing. Takes effect with `trace`.
    void place(int colony, const std::optional<ColonyInLight>& body,
               std::vector<LightReceptor> patches);
    /// Traces every link through the scene as it stands.
    void trace(const ParallelFor& parallel);

    /// Solves for the diffuse light of a day, starting from `light`; light of places that have just
    /// been placed starts dark. Returns the exitance that the last pass gathered from. Links must
    /// have been traced.
    Exitance solve(const DirectLight& direct, const LampsToday& today, LightState& light,
                   const ParallelFor& parallel) const;

    /// Diffuse light of a colony on its day 0, under the lamps and water of today, [patch][lamp].
    std::vector<double> colony_baseline(const BaselineLight& baseline,
                                        const LampsToday& today) const;
    /// Diffuse light at points, [point][lamp]; a scalar sensor (zero normal) receives from all
    /// around.
    std::vector<double> points(std::span<const LightReceptor> receptors, const LampsToday& today,
                               const Exitance& exitance) const;

  private:
    /// Receptors [first, last) of a group: a piece of work.
    struct ReceiverBatch {
        const ReceiverGroup* group = nullptr;
        std::vector<double>* light = nullptr;
        std::size_t first = 0, last = 0;
    };

    std::vector<ReceiverGroup*> groups();
    std::vector<ReceiverBatch> batches(LightState& light) const;
    void find_undersides(int colony, const TriangleMesh& mesh);
    std::vector<double> open_bed() const;
    double jacobi_pass(const DirectLight& direct, const TransmittanceTable& transmittance,
                       const std::vector<ReceiverBatch>& work, const ParallelFor& parallel,
                       LightState& light, Exitance& exitance) const;
    void set_exitance(const DirectLight& direct, const LightState& light, Exitance& exitance) const;
    void set_colony_exitance(int colony, std::span<const double> direct,
                             const ColonyLightState& light, Exitance& exitance) const;
    void store_baseline(const LampsToday& today, LightState& light) const;
    double typical_path_length_m() const;

    std::size_t lamps_;
    BedGrid grid_;
    double depth_m_, sand_reflectance_;
    LinkTracer tracer_;
    ReceiverGroup bed_, solids_;
    std::vector<ReceiverGroup> tops_, undersides_;  // by colony
    std::vector<std::vector<int>> patch_parts_;     // by colony: part of each live patch
    std::vector<std::vector<int>> under_parts_;     // by colony: part of each underside receptor
    std::vector<double> open_bed_;                  // share of each cell no solid stands on
};

/// Adds the diffuse light to a colony's direct light. Shares taken by neighbours become shares of
/// both together; they take of the direct light alone.
void add_diffuse(ColonyLight& light, std::span<const double> diffuse,
                 std::span<const double> diffuse_baseline, std::span<const LightReceptor> patches,
                 const LampsToday& today);

}  // namespace bedshade
