// The sections of a layout file, one reader each. They run in the order below, since later ones are
// checked against what earlier ones found.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "model/reef/layout.h"

#include "sim/input/mesh/rock_mesh_reader.h"
#include "sim/input/photometry/photometry_reader.h"
#include "sim/input/text/table_reader.h"
#include "sim/input/traits/traits_reader.h"
#include "sim/run/checkpoint.h"

namespace bedshade {

/// A layout half read.
struct LayoutBuilder {
    Layout layout;
    const TraitTable& traits;
    std::vector<std::shared_ptr<const Photometry>> photometry = {};  ///< by lamp; may be null
    MeshStore meshes = {};
    Checkpoint checkpoint = {};  ///< of a run that continues: from_day is not 0
    /// Rocks the file names and the tank does not hold, because something is wrong with them.
    std::set<std::string> rocks_left_out = {};

    /// Whether the tank's size is known; without it nothing can be checked to be inside.
    bool has_tank() const {
        return layout.tank.length_m > 0.0 && layout.tank.width_m > 0.0 &&
               layout.tank.water_depth_m > 0.0;
    }
};

void read_season(TableReader& top, LayoutBuilder& builder);
void read_tank(TableReader& top, LayoutBuilder& builder);
void read_substrate(TableReader& top, LayoutBuilder& builder);
void read_water(TableReader& top, LayoutBuilder& builder);
void read_lamps(TableReader& top, LayoutBuilder& builder);
void read_rocks(TableReader& top, LayoutBuilder& builder);
void read_pumps(TableReader& top, LayoutBuilder& builder);
void read_inhabitants(TableReader& top, LayoutBuilder& builder);
void read_colonies(TableReader& top, LayoutBuilder& builder);
void read_readings(TableReader& top, LayoutBuilder& builder);
void read_actions(TableReader& top, LayoutBuilder& builder);
void read_measured(TableReader& top, LayoutBuilder& builder);

/// How the next colony stands on the day that the run continues from, where that is given.
void read_checkpoint(TableReader& colony_in, LayoutBuilder& builder);
/// Warns of neighbours in `now` that the layout does not hold.
void check_neighbours(TableReader& top, const LayoutBuilder& builder);

/// Warns of corals that are set into one another; those that continue or come later are left out.
void check_crowding(TableReader& top, const LayoutBuilder& builder);

/// Runs `read` on every table of the list `key`, and then names the keys it did not ask for.
/// Reports an error when it is no list, or longer than `most`. Things with names get them read
/// first.
void for_each_item(TableReader& from, const char* key, std::size_t most,
                   const std::function<void(TableReader&)>& read);
void for_each_named(TableReader& from, const char* key, std::size_t most,
                    const std::function<void(TableReader&, const std::string& name)>& read);

}  // namespace bedshade
