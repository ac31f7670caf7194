// Diffuse light: what sand, rock, coral and overgrown or painted walls throw back, by way of the
// panes and of the surface, which from below turns back all that meets it slantwise.
//
// Every receptor looks out along a few backward ways, spread evenly over its half-space (Lambert's
// law), each of which ends on the element that can be seen there (model/light/link_tracer.h).
// The ways are found when the reef has changed, and kept. An element's exitance is its albedo times
// the direct and the diffuse light it gets, so light of any number of bounces comes from sweeping
// over the kept ways until nothing changes; a season's next step starts from the last one's light.
//
// Noise: receptors side by side share one well-spread set of ways (a (0,2)-sequence; Sobol' 1967)
// in turns, and each receptor's light is the mean over its neighbourhood that holds them all
// (interleaved sampling; Keller & Heidrich 2001). The diffuse part alone is smoothed so.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "model/base/parallel.h"
#include "model/light/light_field.h"
#include "model/light/link_tracer.h"
#include "model/reef/so_far.h"

namespace bedshade {

/// Direct plateau light of a day, all as [place][lamp] [umol m-2 s-1].
struct DirectLight {
    std::span<const double> bed, solids;
    std::span<const ColonyLight> colonies;
};

class Radiosity {
  public:
    Radiosity(const Layout& layout, const BedGrid& bed);

    /// Pieces of rock and wall whose direct light is asked for.
    const std::vector<LightReceptor>& solids() const { return tracer_.solids().receptors(); }

    /// Puts a colony as it is, with its live patches, or nothing. Takes effect with `trace_links`.
    void place(int colony, const std::optional<ColonyInLight>& body,
               std::vector<LightReceptor> patches);
    /// The colony stands somewhere else now: what its light is measured against begins again.
    void reset_baseline(int colony) { baseline_[static_cast<std::size_t>(colony)] = {}; }
    /// Finds every way anew through the scene as it stands.
    void trace_links(const ParallelFor& parallel);

    /// Works out the diffuse light of a day. The first time it begins from darkness, then from
    /// what it found last.
    void solve(const DirectLight& direct, const LampsToday& today, const ParallelFor& parallel);

    /// What it found last, to begin from another time.
    TankMemory memory() const { return {bed_.light, solids_.light}; }
    void remember(const TankMemory& memory);
    /// The same for a colony; the shape that it is pictured in is the caller's to know. Light of
    /// other places than the colony now has is not taken up.
    void fill(int colony, ColonyMemory& memory) const;
    void remember(int colony, const ColonyMemory& memory);

    /// Diffuse plateau light on the bed, [y][x][lamp] [umol m-2 s-1].
    const std::vector<double>& bed() const { return bed_.light; }
    /// On a colony's live patches, [patch][lamp]; empty for one that is absent.
    const std::vector<double>& colony(int colony) const {
        return tops_[static_cast<std::size_t>(colony)].light;
    }
    /// The same as it was when the colony was first seen, under the lamps and water of today.
    std::vector<double> colony_baseline(int colony, const LampsToday& today) const;
    /// At points, [point][lamp]; a scalar sensor (zero normal) looks out all around.
    std::vector<double> points(std::span<const LightReceptor> receptors,
                               const LampsToday& today) const;

  private:
    /// A receptor's share of a set of directions: which set, and the how manieth part of it.
    struct SequencePart {
        std::uint32_t set = 0, part = 0;
    };
    /// Receptors that look out, and what they see.
    struct ReceiverGroup {
        std::vector<LightReceptor> receptors;
        int owner = -1;  // its body is not in the way
        int paths = 0;   // of each receptor
        std::uint32_t key = 0;
        std::vector<SequencePart> sequence_parts;  // by receptor
        std::vector<TransportLink> links;          // [receptor][way]
        std::vector<double> light;                 // [receptor][lamp]
    };
    /// Some receptors of a lookout: a piece of work.
    struct ReceiverBatch {
        ReceiverGroup* group = nullptr;
        std::size_t first = 0, last = 0;
    };
    using TransmittanceTable = std::vector<std::vector<float>>;  // [lamp][cm]

    static std::vector<SequencePart> sequential_parts(std::size_t receptors, std::size_t sharing);
    std::vector<SequencePart> bed_parts() const;
    std::vector<ReceiverBatch> receiver_batches();
    void trace_links(const ReceiverBatch& batch) const;
    void find_undersides(int colony, const TriangleMesh& mesh);
    TransmittanceTable transmittance_table(const LampsToday& today) const;
    void gather(const ReceiverBatch& batch, const TransmittanceTable& left) const;
    std::vector<double> open_bed() const;
    void smooth_bed();
    void smooth_rings(std::vector<double>& light) const;
    double jacobi_iteration(const DirectLight& direct, const TransmittanceTable& left,
                            const std::vector<ReceiverBatch>& work, const ParallelFor& parallel);
    void set_exitance(const DirectLight& direct);
    void set_colony_exitance(int colony, std::span<const double> direct);
    void store_baseline(const LampsToday& today);
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
    std::vector<double> exitance_;                  // [element][lamp]
    std::vector<BaselineLight> baseline_;           // by colony
};

/// Adds the diffuse light to a colony's direct light. Shares taken by neighbours become shares of
/// both together; they take of the direct light alone.
void add_diffuse(ColonyLight& light, std::span<const double> diffuse,
                 std::span<const double> diffuse_baseline, std::span<const LightReceptor> patches,
                 const LampsToday& today);

}  // namespace bedshade
