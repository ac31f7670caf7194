#include "model/monte_carlo/photon_history.h"

#include <algorithm>
#include <cmath>

#include "model/monte_carlo/surfaces.h"
#include "model/reef/reflectance.h"

namespace bedshade::monte_carlo {
namespace {

constexpr double kSurfaceOffset_m = 1e-9;  // distance of a scattered ray's origin from its triangle

/// The axis normal to a side.
int axis_of(Side side) { return side == Side::left || side == Side::right ? 0 : 1; }

Vec3 inward(Side side) {
    const double sign = side == Side::front || side == Side::left ? 1.0 : -1.0;
    return sign * Vec3::Unit(axis_of(side));
}

}  // namespace

PhotonHistory::PhotonHistory(const TransportContext& context, std::size_t lamp,
                             RandomStream& random, BatchTally& tally)
    : context_(context), lamp_(lamp), random_(random), tally_(tally) {}

void PhotonHistory::count(std::size_t place) {
    ++tally_.landed[place * context_.scene.lamps.size() + lamp_];
}

End PhotonHistory::follow(const LampSource& source) {
    const double a = random_.uniform(), b = random_.uniform();
    const double c = random_.uniform(), d = random_.uniform();
    ray_ = {source.point_m(a, b), source.direction(c, d)};
    optics_ = context_.optics[static_cast<std::size_t>(source.band(random_.uniform()))];
    in_water_ = false;
    // Path length in water until absorption, sampled once from Beer's law; it includes all
    // segments.
    absorption_length_left_m_ =
        -std::log(random_.uniform()) / std::max(optics_.absorbed_per_m, 1e-300);
    MaybeEnd end = enter_tank();
    for (int event = 0; !end && event < kMaxEvents; ++event) end = step();
    return end.value_or(End::followed);
}

PhotonHistory::MaybeEnd PhotonHistory::enter_tank() {
    const Tank& tank = context_.scene.tank;
    const double top_m = tank.water_depth_m + tank.rim_m;
    const Vec3& d = ray_.direction;
    Vec3 at = ray_.from_m;
    if (at.z() > top_m) {
        if (d.z() >= 0.0) return End::missed;
        at += (top_m - at.z()) / d.z() * d;
        at.z() = top_m;
    }
    if (!over_opening(at)) return enter_by_rim();
    at.z() = std::max(at.z(), tank.water_depth_m);  // a lamp in the water is moved to its surface
    ray_.from_m = at;
    if (!bernoulli(tank.cover_transmittance)) return End::cover;
    return {};
}

bool PhotonHistory::over_opening(const Vec3& at_m) const {
    const Tank& tank = context_.scene.tank;
    return at_m.x() >= 0.0 && at_m.x() <= tank.length_m && at_m.y() >= 0.0 &&
           at_m.y() <= tank.width_m;
}

PhotonHistory::MaybeEnd PhotonHistory::enter_by_rim() {
    for (const Side side : {Side::front, Side::back, Side::left, Side::right}) {
        const double heading = ray_.direction.dot(inward(side));
        const double outside_m = -(ray_.from_m - corner_of(side)).dot(inward(side));
        if (heading <= 0.0 || outside_m < 0.0) continue;
        Vec3 at = ray_.from_m + outside_m / heading * ray_.direction;
        at[axis_of(side)] = corner_of(side)[axis_of(side)];
        const double above_m = at.z() - context_.scene.tank.water_depth_m;
        if (above_m <= 0.0 || above_m >= context_.scene.tank.rim_m || !over_opening(at)) continue;
        ray_.from_m = at;
        return pass_dry_pane(side);
    }
    return End::missed;
}

PhotonHistory::MaybeEnd PhotonHistory::pass_dry_pane(Side side) {
    const WallKind kind = context_.scene.tank.wall(side).kind;
    if (kind == WallKind::black || kind == WallKind::diffuse) return End::missed;
    const double pane =
        kind == WallKind::acrylic ? optics_.acrylic_refractive_index : optics_.glass_index;
    const double cosine = std::abs(ray_.direction[axis_of(side)]);
    if (bernoulli(pane_reflectance_of(cosine, {1.0, pane, 1.0}))) return End::missed;
    return {};
}

Vec3 PhotonHistory::corner_of(Side side) const {
    const Tank& tank = context_.scene.tank;
    const bool far = side == Side::right || side == Side::back;
    return far ? Vec3(tank.length_m, tank.width_m, 0.0) : Vec3::Zero();
}

PhotonHistory::BoundaryDistance PhotonHistory::next_boundary() const {
    const Tank& tank = context_.scene.tank;
    const double low = in_water_ ? 0.0 : tank.water_depth_m;
    const double high = in_water_ ? tank.water_depth_m : tank.water_depth_m + tank.rim_m;
    const Vec3& p = ray_.from_m;
    const Vec3& d = ray_.direction;
    BoundaryDistance distance{
        d.z() < 0.0 ? (low - p.z()) / d.z() : (high - p.z()) / std::max(d.z(), 1e-300),
        d.z() < 0.0 ? Boundary::below : Boundary::above};
    const auto nearer = [&](double length_m, Boundary to) {
        if (length_m < distance.length_m) distance = {length_m, to};
    };
    if (d.x() < 0.0) nearer(-p.x() / d.x(), Boundary::left);
    if (d.x() > 0.0) nearer((tank.length_m - p.x()) / d.x(), Boundary::right);
    if (d.y() < 0.0) nearer(-p.y() / d.y(), Boundary::front);
    if (d.y() > 0.0) nearer((tank.width_m - p.y()) / d.y(), Boundary::back);
    distance.length_m = std::max(0.0, distance.length_m);
    return distance;
}

PhotonHistory::MaybeEnd PhotonHistory::step() {
    const BoundaryDistance out = next_boundary();
    double length_m = out.length_m;
    const bool clear =
        !in_water_ && context_.obstacles.top_m() <= context_.scene.tank.water_depth_m;
    Hit hit;
    Interception interception;
    bool intercepted = false;
    if (!clear) {
        hit = context_.obstacles.solid(ray_, length_m);
        if (hit.any()) length_m = hit.distance_m;
        intercepted =
            context_.obstacles.intercepts(ray_, length_m, random_, workspace_, interception);
        if (intercepted) length_m = interception.distance_m;
    }
    if (in_water_ && absorption_length_left_m_ < length_m) {
        move(absorption_length_left_m_, false);
        return End::water;
    }
    const bool at_boundary = !hit.any() && !intercepted;
    move(length_m, at_boundary && in_water_ && out.to == Boundary::below);
    if (intercepted) return scatter(interception.scattered);
    return at_boundary ? hit_boundary(out.to) : hit_body(hit);
}

void PhotonHistory::move(double length_m, bool onto_sand) {
    const Vec3 from = ray_.from_m;
    ray_.from_m += length_m * ray_.direction;
    // Exactly on the sand, so that a sensor on the sand tallies the same photons.
    if (onto_sand) ray_.from_m.z() = 0.0;
    if (!in_water_) return;
    absorption_length_left_m_ -= length_m;
    tally_sensors(from, ray_.from_m);
}

void PhotonHistory::tally_sensors(const Vec3& from_m, const Vec3& to_m) {
    for (std::size_t s = 0; s < context_.sensors.size(); ++s) {
        const TallyDisc& sensor = context_.sensors[s];
        const double z = sensor.at_m.z();
        if (!(from_m.z() > z && to_m.z() <= z)) continue;
        const double share = (from_m.z() - z) / (from_m.z() - to_m.z());
        const Vec3 at = from_m + share * (to_m - from_m);
        if ((at - sensor.at_m).head<2>().squaredNorm() <= sensor.radius_m * sensor.radius_m)
            count(context_.bed.size() + s);
    }
}

PhotonHistory::MaybeEnd PhotonHistory::scatter(double survival) {
    if (!bernoulli(survival)) return End::corals;
    const double u = random_.uniform(), v = random_.uniform();
    ray_.direction = isotropic(u, v);
    return {};
}

PhotonHistory::MaybeEnd PhotonHistory::reflect_diffusely(const Vec3& normal, double reflectance,
                                                         End otherwise) {
    if (!bernoulli(reflectance)) return otherwise;
    const double u = random_.uniform(), v = random_.uniform();
    ray_.direction = lambertian(normal, u, v);
    return {};
}

PhotonHistory::MaybeEnd PhotonHistory::hit_body(const Hit& hit) {
    const Body& body = context_.obstacles.body_of(hit);
    const Vec3 normal = context_.obstacles.facing_normal(hit);
    const Tank& tank = context_.scene.tank;
    ray_.from_m =
        (ray_.from_m + kSurfaceOffset_m * normal)
            .cwiseMax(Vec3::Zero())
            .cwiseMin(Vec3(tank.length_m, tank.width_m,
                           in_water_ ? tank.water_depth_m : tank.water_depth_m + tank.rim_m));
    return reflect_diffusely(normal, body.reflectance,
                             body.material == Material::rock ? End::rock : End::corals);
}

PhotonHistory::MaybeEnd PhotonHistory::hit_boundary(Boundary boundary) {
    switch (boundary) {
        case Boundary::front:
            return hit_wall(Side::front);
        case Boundary::back:
            return hit_wall(Side::back);
        case Boundary::left:
            return hit_wall(Side::left);
        case Boundary::right:
            return hit_wall(Side::right);
        case Boundary::below:
            return in_water_ ? hit_sand() : hit_surface();
        case Boundary::above:
            return in_water_ ? hit_surface() : MaybeEnd(End::above);
    }
    return {};
}

PhotonHistory::MaybeEnd PhotonHistory::hit_sand() {
    const BedGrid& bed = context_.bed;
    count(bed.index(bed.column_at(ray_.from_m.x()), bed.row_at(ray_.from_m.y())));
    return reflect_diffusely(Vec3::UnitZ(), context_.scene.sand_reflectance, End::sand);
}

PhotonHistory::MaybeEnd PhotonHistory::hit_surface() {
    Vec3& d = ray_.direction;
    ray_.from_m.z() = context_.scene.tank.water_depth_m;
    const double here = in_water_ ? optics_.water_index : 1.0;
    const double beyond = in_water_ ? 1.0 : optics_.water_index;
    const Interface hit = interface_optics(std::abs(d.z()), here, beyond);
    if (bernoulli(hit.reflectance())) {
        d.z() = -d.z();
        return {};
    }
    d = Vec3(d.x() * here / beyond, d.y() * here / beyond, std::copysign(hit.cos_beyond, d.z()));
    d.normalize();
    in_water_ = !in_water_;
    return {};
}

PhotonHistory::MaybeEnd PhotonHistory::hit_wall(Side side) {
    const Tank& tank = context_.scene.tank;
    const int axis = axis_of(side);
    const bool far = side == Side::right || side == Side::back;
    ray_.from_m[axis] = !far ? 0.0 : axis == 0 ? tank.length_m : tank.width_m;
    const Wall& wall = tank.wall(side);
    switch (wall.kind) {
        case WallKind::glass:
            return hit_pane(side, false);
        case WallKind::acrylic:
            return hit_pane(side, true);
        case WallKind::black:
            return End::walls;
        case WallKind::diffuse:
            return reflect_diffusely(inward(side), wall.reflectance, End::walls);
        case WallKind::coralline:
            // Algae grow under water only, so the rim is glass.
            return in_water_ ? reflect_diffusely(inward(side), kCorallineReflectance, End::walls)
                             : hit_pane(side, false);
    }
    return {};
}

PhotonHistory::MaybeEnd PhotonHistory::hit_pane(Side side, bool acrylic) {
    double& across = ray_.direction[axis_of(side)];
    const PaneIndices indices{in_water_ ? optics_.water_index : 1.0,
                              acrylic ? optics_.acrylic_refractive_index : optics_.glass_index,
                              1.0};
    if (!bernoulli(pane_reflectance_of(std::abs(across), indices))) return End::panes;
    across = -across;
    return {};
}

}  // namespace bedshade::monte_carlo
