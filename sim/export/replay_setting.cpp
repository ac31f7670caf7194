#include <nlohmann/json.hpp>

#include "model/growth/body.h"
#include "model/light/rock_mesh.h"

#include "sim/base/text.h"
#include "sim/export/packed.h"
#include "sim/export/replay_parts.h"
#include "sim/report/report.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

template <class Vector>
ordered_json numbers(const Vector& v) {
    return std::vector<double>(v.data(), v.data() + v.size());
}

const char* shape_word(LampShape shape) {
    switch (shape) {
        case LampShape::rectangle:
            return "rectangle";
        case LampShape::disc:
            return "disc";
        case LampShape::point:
            break;
    }
    return "point";
}

ordered_json lamps(const Layout& layout) {
    ordered_json list = ordered_json::array();
    for (const Lamp& lamp : layout.lamps)
        list.push_back({{"name", escape_control(lamp.name)},
                        {"shape", shape_word(lamp.shape)},
                        {"centre_m", numbers(lamp.centre_m)},
                        {"size_m", numbers(lamp.size_m)},
                        {"tilt_rad", lamp.tilt_rad},
                        {"azimuth_rad", lamp.azimuth_rad}});
    return list;
}

ordered_json pumps(const Layout& layout) {
    ordered_json list = ordered_json::array();
    for (const Pump& pump : layout.pumps)
        list.push_back({{"name", escape_control(pump.name)},
                        {"position_m", numbers(pump.position_m)},
                        {"direction", numbers(pump.direction)},
                        {"flow_m3_s", pump.flow_m3_s}});
    return list;
}

ordered_json mesh(const TriangleMesh& triangles) {
    std::vector<float> points_m;
    for (const auto& v : triangles.vertices_m) points_m.insert(points_m.end(), v.begin(), v.end());
    std::vector<std::uint32_t> corners;
    for (const auto& t : triangles.triangles) corners.insert(corners.end(), t.begin(), t.end());
    return {{"vertices_m", packed(points_m, {triangles.vertices_m.size(), 3})},
            {"triangles", packed(corners, {triangles.triangles.size(), 3})}};
}

ordered_json rocks(const Layout& layout) {
    ordered_json list = ordered_json::array();
    for (const Rock& rock : layout.rocks) {
        ordered_json item = mesh(rock_mesh(rock));
        item["name"] = escape_control(rock.name);
        list.push_back(std::move(item));
    }
    return list;
}

/// A colony's own frame in the tank's, row by row.
ordered_json lean(const ColonyFacts& facts) {
    ColonyShape shape;
    shape.facing_azimuth_rad = facts.facing_azimuth_rad;
    shape.facing_tilt_rad = facts.facing_tilt_rad;
    const Eigen::Matrix<double, 3, 3, Eigen::RowMajor> rows = lean_of(shape);
    return numbers(rows);
}

ordered_json colonies(const Trajectory& run, const Layout& layout) {
    ordered_json list = ordered_json::array();
    for (std::size_t i = 0; i < run.colonies().size(); ++i) {
        const ColonyFacts& facts = run.colonies()[i];
        list.push_back({{"name", escape_control(facts.name)},
                        {"taxon", escape_control(facts.taxon)},
                        {"kind", short_name(layout.taxon_of(layout.colonies[i]))},
                        {"form", to_string(facts.form)},
                        {"on", escape_control(facts.on)},
                        {"lean", lean(facts)}});
    }
    return list;
}

}  // namespace

ordered_json replay_setting(const Trajectory& run, const Layout& layout) {
    const BedGrid& bed = run.bed_grid();
    return {
        {"tank",
         {{"length_m", layout.tank.length_m},
          {"width_m", layout.tank.width_m},
          {"water_depth_m", layout.tank.water_depth_m},
          {"rim_m", layout.tank.rim_m}}},
        {"bed",
         {{"nx", bed.nx}, {"ny", bed.ny}, {"cell_x_m", bed.cell_x_m}, {"cell_y_m", bed.cell_y_m}}},
        {"lamps", lamps(layout)},
        {"pumps", pumps(layout)},
        {"rocks", rocks(layout)},
        {"colonies", colonies(run, layout)}};
}

}  // namespace bedshade
