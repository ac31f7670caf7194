#include "layout_dump.h"

#include <fmt/format.h>

namespace bedshade {
namespace {

std::string put(const Vec3& v) { return fmt::format("({} {} {})", v.x(), v.y(), v.z()); }
std::string put(const Vec2& v) { return fmt::format("({} {})", v.x(), v.y()); }

template <class T>
std::string put(const std::optional<T>& value) {
    return value ? fmt::format("{}", *value) : "none";
}

struct PutShape {
    std::string operator()(const RockBox& b) const { return "box" + put(b.min_m) + put(b.max_m); }
    std::string operator()(const RockSlab& s) const {
        return "slab" + put(s.centre_m) + put(s.size_m) +
               fmt::format(" {} {}", s.tilt_rad, s.azimuth_rad);
    }
    std::string operator()(const RockDome& d) const {
        return "dome" + put(d.centre_m) + fmt::format(" {} {}", d.radius_m, d.height_m);
    }
    std::string operator()(const RockMesh& m) const {
        std::string out = "mesh";
        for (const Vec3& v : m.solid().vertices_m()) out += put(v);
        for (const auto& [a, b, c] : m.solid().triangles())
            out += fmt::format(" {} {} {}", a, b, c);
        return out;
    }
};

struct PutTarget {
    std::string operator()(std::monostate) const { return "-"; }
    std::string operator()(double length_m) const { return fmt::format("{}", length_m); }
    std::string operator()(const Vec3& place_m) const { return put(place_m); }
    std::string operator()(const Feeding& f) const {
        return fmt::format("food {} {} {}", f.food, put(f.for_d), put(f.every_d));
    }
    std::string operator()(const LampChange& c) const {
        std::string out = fmt::format("{} {} {}", c.lamp, put(c.output), put(c.above_m));
        if (c.day) out += fmt::format(" {}-{}/{}", c.day->on_h, c.day->off_h, c.day->ramp_h);
        return out;
    }
    std::string operator()(const PumpChange& c) const {
        return fmt::format("{} {} {}", c.pump, put(c.flow_m3_s),
                           c.direction ? put(*c.direction) : "none");
    }
    std::string operator()(const WaterChange& c) const {
        return fmt::format("water {} {} {} {}", put(c.temperature_C), put(c.yellowing_per_m),
                           put(c.turbidity_kg_m3), put(c.attenuation_per_m));
    }
};

std::string put(const Tank& t) {
    std::string out = fmt::format("tank {} {} {} {} {}", t.length_m, t.width_m, t.water_depth_m,
                                  t.rim_m, t.cover_transmittance);
    for (const auto& wall : t.walls)
        out += fmt::format(" {}/{}", static_cast<int>(wall.kind), wall.reflectance);
    return out + '\n';
}

std::string put(const Substrate& s) {
    std::string out = fmt::format("substrate {} {} {} {} {}", s.grain_m, s.density_kg_m3,
                                  s.porosity, s.depth_m, s.reflectance);
    for (const auto& p : s.patches)
        out += fmt::format(" {} {} {} {}", p.name, put(p.around_m), p.radius_m, p.grain_m);
    return out + '\n';
}

std::string put(const Water& w) {
    return fmt::format("water {} {} {} {} {} {} {} {} {} {} {}\n", w.temperature_C, w.salinity_g_kg,
                       w.yellowing_per_m, w.turbidity_kg_m3, w.turbidity_grain_m,
                       put(w.attenuation_per_m), put(w.refractive_index),
                       w.yellowing_drift_per_m_week, w.drift_reset_weeks, w.seasonal_swing_K,
                       w.warmest_month);
}

std::string put(const PhotometricWeb& w) {
    std::string out = fmt::format(" web about {}:", static_cast<int>(w.pole));
    for (const auto* list : {&w.turn_rad, &w.polar_rad, &w.intensity})
        out += fmt::format(" {}", fmt::join(*list, "/"));
    return out;
}

std::string put(const Lamp& l) {
    std::string out = fmt::format(
        "lamp {} {} {} {} {} {} {} {} {} {} {} {} {}", l.name, put(l.centre_m),
        static_cast<int>(l.shape), put(l.size_m), l.photon_flux_umol_s, l.output, l.beam_exponent,
        l.tilt_rad, l.azimuth_rad, l.day.on_h, l.day.off_h, l.day.ramp_h, l.ageing_per_year);
    for (const auto& p : l.spectrum)
        out += fmt::format(" {}/{}/{}", p.peak_nm, p.colour_temperature_K, p.share);
    if (l.spectrum_table)
        for (std::size_t i = 0; i < l.spectrum_table->photons.size(); ++i)
            out += fmt::format(" {}:{}", l.spectrum_table->wavelength_nm[i],
                               l.spectrum_table->photons[i]);
    if (l.web) out += put(*l.web);
    return out + '\n';
}

std::string put(const Pump& p) {
    return fmt::format("pump {} {} {} {} {} {} {} {} {}\n", p.name, put(p.position_m),
                       put(p.direction), p.nozzle_m, p.flow_m3_s, static_cast<int>(p.program),
                       p.period_s, p.duty, p.alternates_with);
}

std::string put(const Rock& r) {
    return fmt::format("rock {} {} {} {}\n", r.name, std::visit(PutShape{}, r.shape), r.reflectance,
                       static_cast<int>(r.rests_on));
}

std::string put(const Inhabitant& i) {
    return fmt::format("inhabitant {} {} {} {} {} {} {} {} {} {}\n", i.name,
                       static_cast<int>(i.does), i.count, i.events_per_day, i.mass_kg, i.lift_m,
                       i.from_h, i.to_h, put(i.around_m), i.radius_m);
}

std::string put(const Layout& layout, const Colony& c) {
    return fmt::format("colony {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {}\n", c.name,
                       layout.taxon_of(c).id, put(c.position_m), c.on, c.diameter_m, c.height_m,
                       c.live_fraction, c.facing_azimuth_rad, c.facing_tilt_rad, c.growth_factor,
                       c.settling_d, put(c.acclimated_to_dli_mol_m2_d), c.fixed,
                       put(c.growth_known_to), put(c.attached), c.clone);
}

std::string put(const Reading& r) {
    return fmt::format("reading {} {} {} {}\n", put(r.at_m), r.ppfd_umol_m2_s, r.on_d,
                       static_cast<int>(r.sensor));
}

std::string put(const Action& a) {
    return fmt::format("action {} {} {} {}\n", a.day_d, static_cast<int>(a.kind), a.colony,
                       std::visit(PutTarget{}, a.to));
}

}  // namespace

std::string dump(const Layout& layout) {
    const Season& s = layout.season;
    std::string out =
        fmt::format("{}\nseason {} {} {} {} {}\n", layout.title, s.start.days_since_1970, s.from_d,
                    s.months, s.step_d, s.use_readings);
    const Measured& m = layout.measured;
    out += fmt::format("measured {} {} {}\n", put(m.output_known_to), put(m.water_known_to),
                       m.water_with_output);
    out += put(layout.tank) + put(layout.substrate) + put(layout.water);
    for (const auto& x : layout.lamps) out += put(x);
    for (const auto& x : layout.pumps) out += put(x);
    for (const auto& x : layout.rocks) out += put(x);
    for (const auto& x : layout.inhabitants) out += put(x);
    for (const auto& x : layout.colonies) out += put(layout, x);
    for (const auto& x : layout.readings) out += put(x);
    for (const auto& x : layout.actions) out += put(x);
    return out;
}

}  // namespace bedshade
