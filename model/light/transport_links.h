// Transport links of the radiosity solution: what each receiver sees along a few backward paths.
//
// A receiver's directions are spread over its hemisphere by Lambert's law, so that a link's weight
// over the number of paths is a Monte Carlo estimate of the form factor between receiver and
// element, seen through mirrors, surface and canopies (model/light/link_tracer.h).
//
// Noise: receivers side by side share one low-discrepancy set of paths (a (0,2)-sequence; Sobol'
// 1967), each tracing a part of it (interleaved sampling; Keller & Heidrich 2001);
// model/light/diffuse_smoothing.h then averages over the neighbours that hold the whole set.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/base/parallel.h"
#include "model/light/light_field.h"
#include "model/light/link_tracer.h"

namespace bedshade {

inline constexpr int kBedPaths = 16;   // of each cell; four cells share a set
inline constexpr int kTopPaths = 8;    // of each live patch; eight patches share a set
inline constexpr int kTopSharing = 8;  // divides a ring of sectors
inline constexpr int kSolidPaths = 16, kUndersidePaths = 16;
inline constexpr int kPointPaths = 256;

/// What water leaves of diffuse light, by lamp and centimetre of path.
class TransmittanceTable {
  public:
    /// Light that has reached the bed has lost its weaker colours already: `typical_path_m` of
    /// water stands before the first centimetre.
    TransmittanceTable(const LampsToday& today, double typical_path_m);

    std::size_t cm(float length_m) const;
    float at(std::size_t lamp, std::size_t cm) const { return rows_[lamp][cm]; }

  private:
    std::vector<std::vector<float>> rows_;  // [lamp][cm]
};

/// The part of a shared set of directions that a receiver traces.
struct SequencePart {
    std::uint32_t set = 0, part = 0;
};

/// Receivers of one kind and their links.
struct ReceiverGroup {
    std::vector<LightReceptor> receptors;
    int owner = -1;  ///< colony whose body is not in the way; -1: all are
    int paths = 0;   ///< of each receptor
    std::uint32_t key = 0;
    std::vector<SequencePart> parts;   ///< by receptor
    std::vector<TransportLink> links;  ///< [receptor][path]
};

/// Receptors one after another, each `sharing` of them sharing a set.
std::vector<SequencePart> sequential_parts(std::size_t receptors, std::size_t sharing);
/// Bed cells in blocks of two by two that share a set.
std::vector<SequencePart> bed_parts(const BedGrid& grid);

/// Traces the links of receptors [first, last) of a group.
void trace_links(const LinkTracer& tracer, ReceiverGroup& group, std::size_t first,
                 std::size_t last);

/// Irradiance of receptors [first, last) of a group from the elements' exitance [element][lamp]:
/// (F B) of the radiosity equation. `light` holds [receptor][lamp] of the group.
void gather(const ReceiverGroup& group, std::size_t first, std::size_t last,
            std::span<const double> exitance, const TransmittanceTable& transmittance,
            std::size_t lamps, std::span<double> light);

}  // namespace bedshade
