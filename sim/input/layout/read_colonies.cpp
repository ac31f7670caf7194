#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <utility>

#include "model/growth/stability.h"

#include "sim/base/text.h"
#include "sim/input/layout/defaults.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"
#include "sim/input/layout/uncertainty_factor.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostColonies = 5000;
constexpr Range kDiameter{0.1, 500.0};
/// A colony farther than this from sand, glass and rock hangs in open water.
constexpr double kNoSupport_m = 0.03;

class ColonyReader {
  public:
    explicit ColonyReader(LayoutBuilder& builder) : draft_(builder), rocks_(builder.layout.rocks) {
        for (const auto& name : builder.traits.names()) taxon_names_.push_back(name);
    }

    void read(TableReader& in, const std::string& name) {
        Colony colony;
        colony.name = name;
        const bool has_taxon = read_taxon(in, colony);
        const bool placed = read_place(in, colony);
        read_size(in, colony);
        read_condition(in, colony);
        read_checkpoint(in, draft_);
        if (placed) check_surroundings(in, colony);
        if (placed && has_taxon) check_free_living(in, colony);
        if (has_taxon) check_clone(in, colony);
        draft_.layout.colonies.push_back(std::move(colony));
    }

  private:
    bool read_taxon(TableReader& in, Colony& colony) {
        std::string word;
        if (!in.text("taxon", word, Need::required)) return false;
        const Taxon* taxon = draft_.traits.find(word);
        if (!taxon) {
            const std::string near =
                in.diagnostics().keeps_more_errors() ? nearest_name(word, taxon_names_) : "";
            in.error("taxon",
                     fmt::format("{} is \"{}\", which is not in the trait table", in.label("taxon"),
                                 escape_control(word)),
                     near.empty() ? "`bedshade traits` lists the table; add your own rows with "
                                    "traits = [\"file.csv\"]"
                                  : fmt::format("did you mean \"{}\"?", near));
            return false;
        }
        colony.taxon = index_of(*taxon);
        return true;
    }

    int index_of(const Taxon& taxon) {
        auto& taxa = draft_.layout.taxa;
        const auto [found, added] = taxon_index_.emplace(taxon.id, static_cast<int>(taxa.size()));
        if (added) taxa.push_back(taxon);
        return found->second;
    }

    bool read_place(TableReader& in, Colony& colony) {
        if (in.has("on")) return read_place_on(in, colony);
        in.node("on");
        if (in.point_size("position") == 2) {
            in.node("position");
            in.error("position", fmt::format("{} has no height", in.label("position")),
                     "give a third number, or on = \"sand\" or on = \"the rock's name\"");
            return false;
        }
        if (!in.point("position", colony.position_m, Need::required)) return false;
        if (!in_water(in, "position", colony.position_m, draft_)) return false;
        if (colony.position_m.z() < kTouch_m && !rocks_.around(colony.position_m))
            colony.on = "sand";
        return true;
    }

    bool read_place_on(TableReader& in, Colony& colony) {
        if (!in.text("on", colony.on)) return false;
        if (in.point_size("position") == 3) {
            in.node("position");
            in.error("position",
                     fmt::format("{} has a height, but on = \"{}\" sets it", in.label("position"),
                                 escape_control(colony.on)),
                     "give x and y only, or leave out `on`");
            return false;
        }
        Vec2 spot = Vec2::Zero();
        if (!in.spot("position", spot, Need::required)) return false;
        if (!over_floor(in, "position", spot, draft_)) return false;
        const auto z_m = height_on(in, colony.on, spot);
        if (!z_m) return false;
        colony.position_m = Vec3(spot.x(), spot.y(), *z_m);
        return in_water(in, "position", colony.position_m, draft_);
    }

    std::optional<double> height_on(TableReader& in, const std::string& support, const Vec2& spot) {
        if (support == "sand") return 0.0;
        const Rock* rock = rock_named(draft_.layout.rocks, support);
        // A rock whose own values is invalid has been reported already.
        if (!rock && draft_.rocks_left_out.count(support) > 0) return std::nullopt;
        if (!rock) {
            report_support(in, support);
            return std::nullopt;
        }
        const auto top = top_at(*rock, spot.x(), spot.y());
        if (!top)
            in.error("position",
                     fmt::format("{} is not above rock \"{}\"", in.label("position"),
                                 escape_control(support)),
                     reach_of(*rock));
        return top;
    }

    void report_support(TableReader& in, const std::string& support) {
        std::vector<std::string> known{"sand"};
        if (in.diagnostics().keeps_more_errors())
            for (const auto& rock : draft_.layout.rocks) known.push_back(rock.name);
        const std::string near = nearest_name(support, known);
        in.error("on",
                 fmt::format("{} is \"{}\", but must be \"sand\" or the name of a rock",
                             in.label("on"), escape_control(support)),
                 near.empty() ? near : fmt::format("did you mean \"{}\"?", escape_control(near)));
    }

    static std::string reach_of(const Rock& rock) {
        const Box box = bounds_of(rock);
        return fmt::format("that rock is within x {} to {} cm, y {} to {} cm",
                           format_number(100.0 * box.min.x()), format_number(100.0 * box.max.x()),
                           format_number(100.0 * box.min.y()), format_number(100.0 * box.max.y()));
    }

    void read_size(TableReader& in, Colony& colony) {
        const Tank& tank = draft_.layout.tank;
        in.quantity("diameter", colony.diameter_m, kLength, kDiameter, Need::required);
        colony.height_m = kHeightPerDiameter * colony.diameter_m;
        in.quantity("height", colony.height_m, kLength, {0.05, 500.0});
        if (!draft_.has_tank()) return;
        const double widest_m = std::min(tank.length_m, tank.width_m);
        if (colony.diameter_m > widest_m)
            in.error("diameter",
                     fmt::format("{} is {} cm, more than the width of the tank ({} cm)",
                                 in.label("diameter"), format_number(100.0 * colony.diameter_m),
                                 format_number(100.0 * widest_m)));
        else if (colony.height_m > tank.water_depth_m)
            in.error("height",
                     fmt::format("{} is {} cm, more than the depth of the water ({} cm)",
                                 in.label("height"), format_number(100.0 * colony.height_m),
                                 format_number(100.0 * tank.water_depth_m)));
        else if (colony.position_m.z() + colony.height_m > tank.water_depth_m + kTouch_m)
            in.warn("height", fmt::format("{} reaches out of the water", in.name()));
    }

    static void read_facing(TableReader& in, Colony& colony) {
        auto facing = in.child("facing");
        if (!facing) return;
        facing->quantity("azimuth", colony.facing_azimuth_rad, kAngle, {-360.0, 360.0});
        facing->quantity("tilt", colony.facing_tilt_rad, kAngle, {0.0, 180.0});
        facing->finish();
    }

    /// "here", or the DLI it is used to.
    static void read_acclimation(TableReader& in, Colony& colony) {
        const auto* found = in.node("acclimated_to");
        if (!found || found->value<std::string_view>() == "here") return;
        double dli = 0.0;
        if (found->is_string())
            in.error("acclimated_to",
                     fmt::format(
                         "{} is {}, but must be \"here\" or a number without quotes, in mol/m2/d",
                         in.label("acclimated_to"), describe(*found)));
        else if (in.number("acclimated_to", dli, {0.0, 100.0}, "mol/m2/d"))
            colony.acclimated_to_dli_mol_m2_d = dli;
    }

    /// A bare 0 is no duration but the word for an established colony.
    static void read_settling(TableReader& in, Colony& colony) {
        const auto* found = in.node("settling");
        if (found && found->is_number() && found->value<double>() == 0.0)
            colony.settling_d = 0.0;
        else
            in.quantity("settling", colony.settling_d, kDays, {0.0, 3650.0});
    }

    static void read_condition(TableReader& in, Colony& colony) {
        in.number("live", colony.live_fraction, kShare);
        read_facing(in, colony);
        in.number("growth_factor", colony.growth_factor, {0.0, 20.0});
        double uncertainty_factor = 1.0;
        if (in.number("growth_known_to", uncertainty_factor, kUncertaintyFactor))
            colony.growth_known_to = uncertainty_factor;
        read_settling(in, colony);
        read_acclimation(in, colony);
        in.flag("fixed", colony.fixed);
        bool attached = false;
        if (in.flag("attached", attached)) colony.attached = attached;
        in.text("clone", colony.clone);
    }

    /// One individual is of one kind.
    void check_clone(TableReader& in, const Colony& colony) {
        if (colony.clone.empty()) return;
        for (const Colony& other : draft_.layout.colonies) {
            if (other.clone != colony.clone || other.taxon == colony.taxon) continue;
            in.error(
                "clone",
                fmt::format("{} is \"{}\", but colony \"{}\" of that clone is {}, while this is {}",
                            in.label("clone"), escape_control(colony.clone),
                            escape_control(other.name), draft_.layout.taxon_of(other).id,
                            draft_.layout.taxon_of(colony).id),
                "cuttings of one individual have one taxon: give another name");
            return;
        }
    }

    bool supported(const Colony& colony) const {
        const Tank& tank = draft_.layout.tank;
        const Vec3& p = colony.position_m;
        const double glass_m =
            std::min({p.x(), p.y(), tank.length_m - p.x(), tank.width_m - p.y()});
        return p.z() < kNoSupport_m || glass_m < kNoSupport_m || rocks_.any_near(p, kNoSupport_m);
    }

    void check_surroundings(TableReader& in, const Colony& colony) {
        if (const Rock* rock = rocks_.around(colony.position_m))
            in.error("position",
                     fmt::format("the base of {} is inside rock \"{}\"", in.name(),
                                 escape_control(rock->name)),
                     fmt::format("on = \"{}\" puts it on top", escape_control(rock->name)));
        else if (draft_.has_tank() && !supported(colony))
            in.warn("position",
                    fmt::format("{} is in open water: no sand, glass or rock within {} cm",
                                in.name(), format_number(100.0 * kNoSupport_m)));
    }

    void check_free_living(TableReader& in, const Colony& colony) {
        const Taxon& taxon = draft_.layout.taxon_of(colony);
        if (colony.on_bed() || !is_loose(taxon, colony)) return;
        in.warn("position",
                taxon.form == Form::free_living_disc
                    ? fmt::format("{} is {}, which lives loose on sand, but it is not on the sand",
                                  in.name(), taxon.scientific_name)
                    : fmt::format("{} is {}, which lives loose and may fall from rock; set "
                                  "attached = true if it is fixed there",
                                  in.name(), taxon.scientific_name));
    }

    LayoutBuilder& draft_;
    RockIndex rocks_;
    std::vector<std::string> taxon_names_;
    std::map<std::string, int> taxon_index_;
};

}  // namespace

void read_colonies(TableReader& top, LayoutBuilder& builder) {
    ColonyReader reader(builder);
    for_each_named(top, "colony", kMostColonies,
                   [&](TableReader& item, const std::string& name) { reader.read(item, name); });
    check_neighbours(top, builder);
}

}  // namespace bedshade
