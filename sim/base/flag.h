// The warnings of the program: kind, colony, day and culprit.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace bedshade {

/// Each flag is raised in the first month in which its condition holds. Values are stored in
/// trajectories: never renumber, only append.
enum class FlagKind : std::uint8_t {
    too_dim,      ///< 30-day net carbon negative even with every other colony at its day-0 outline,
                  ///< or with none that takes lamp light by its growth
    too_bright,   ///< 30-day net carbon negative, and would not be without inhibition
    light_short,  ///< negative now, and would not be with the others at their day-0 outlines
    starved,      ///< the reserve is spent and tissue recedes for lack of light
    buried,       ///< tissue dies under sand
    flow_poor,    ///< 30 days below its flow range
    flow_harsh,   ///< 30 days above its flow range
    stung,        ///< tissue is lost to a neighbour's reach
    overgrown,    ///< tissue is lost under a neighbour's outline
    outgrown,     ///< it touches surface, glass, or its size limit
    irritated,    ///< infauna has made it recede
    fallen,       ///< it fell from where it stood
    strayed,      ///< it walked out of its place
};
inline constexpr std::array kFlagKinds = {
    FlagKind::too_dim,   FlagKind::too_bright, FlagKind::light_short, FlagKind::starved,
    FlagKind::buried,    FlagKind::flow_poor,  FlagKind::flow_harsh,  FlagKind::stung,
    FlagKind::overgrown, FlagKind::outgrown,   FlagKind::irritated,   FlagKind::fallen,
    FlagKind::strayed};

/// The flag's name as users see it ("light-short").
const char* to_string(FlagKind kind);

/// What sort of thing brought a flag about. Values are stored: never renumber, only append.
enum class CulpritKind : std::uint8_t { colony, pump, inhabitant, lamp, water, action, self };
inline constexpr std::array kCulpritKinds = {
    CulpritKind::colony, CulpritKind::pump,   CulpritKind::inhabitant, CulpritKind::lamp,
    CulpritKind::water,  CulpritKind::action, CulpritKind::self};

/// Its name as users see it ("inhabitant").
const char* to_string(CulpritKind kind);

struct Flag {
    FlagKind kind = FlagKind::too_dim;
    int member = 0;
    int month = 1;       ///< of the run, from 1
    double day_d = 0.0;  ///< days since the run's start
    int colony = 0;      ///< index into Layout::colonies
    CulpritKind culprit_kind = CulpritKind::self;
    int culprit = -1;    ///< index into the list of its kind in Layout; -1 where it has none
    double share = 0.0;  ///< of the harm that this culprit did [0, 1]
    std::vector<std::pair<std::string, double>> detail;  ///< values behind it; names carry units
};

}  // namespace bedshade
