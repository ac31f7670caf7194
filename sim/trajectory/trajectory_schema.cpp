#include "sim/trajectory/trajectory_schema.h"

#include <cstdint>
#include <limits>
#include <numeric>
#include <string>

#include "sim/base/calendar.h"
#include "sim/base/sha256.h"
#include "sim/trajectory/colony_record.h"
#include "sim/trajectory/hdf5_dataset.h"
#include "sim/trajectory/hdf5_types.h"
#include "sim/trajectory/tables.h"

namespace bedshade {

namespace {

constexpr const char* kCalendar = "proleptic_gregorian";
constexpr float kNone = std::numeric_limits<float>::quiet_NaN();

const H5::PredType& float32() { return H5::PredType::IEEE_F32LE; }
const H5::PredType& float64() { return H5::PredType::IEEE_F64LE; }
const H5::PredType& int32() { return H5::PredType::STD_I32LE; }
const H5::PredType& uint8() { return H5::PredType::STD_U8LE; }

void write_root(H5::H5File& file, const Layout& layout, const RunProvenance& facts) {
    write_attribute(file, "format", std::string(kTrajectoryFormat));
    write_attribute(file, "format_version", kTrajectoryVersion);
    write_attribute(file, "title", layout.title);
    write_attribute(file, "program_version", facts.program_version);
    write_attribute(file, "model_version", facts.model_version);
    write_attribute(file, "seed", facts.seed);
    write_attribute(file, "calendar_start", to_string(layout.season.start));
    write_attribute(file, "calendar", std::string(kCalendar));
    write_attribute(file, "layout_text", facts.layout_text);
    write_attribute(file, "layout_sha256", sha256_hex(facts.layout_text));
    write_attribute(file, "traits_text", facts.traits_text);
    write_attribute(file, "traits_sha256", sha256_hex(facts.traits_text));
    write_attribute(file, "complete", 0);
}

Dimension counted(H5::H5File& file, const std::string& name, const Meaning& meaning, int first,
                  int count) {
    std::vector<std::int32_t> numbers(static_cast<std::size_t>(count));
    std::iota(numbers.begin(), numbers.end(), first);
    Dimension dimension = create_dimension(file, name, meaning, int32(), numbers.size());
    if (count > 0) dimension.scale.write(numbers.data(), int32());
    return dimension;
}

Dimension measured(H5::H5File& file, const std::string& name, const Meaning& meaning,
                   const std::vector<double>& places) {
    Dimension dimension = create_dimension(file, name, meaning, float64(), places.size());
    if (!places.empty()) dimension.scale.write(places.data(), float64());
    return dimension;
}

Dimension named(H5::H5File& file, const std::string& name, const Meaning& meaning,
                const std::vector<std::string>& names) {
    const H5::StrType type = padded_text(longest(names));
    Dimension dimension = create_dimension(file, name, meaning, type, names.size());
    if (!names.empty()) dimension.scale.write(padded_bytes(names).data(), type);
    return dimension;
}

Dimension create_time(H5::H5File& file, CalendarDay start) {
    const Meaning meaning = {"/time", "days since " + to_string(start), "day of the frame"};
    Dimension time = create_growing_dimension(file, "time", meaning, float64(), kSnapshotsPerChunk);
    write_attribute(time.scale, "calendar", std::string(kCalendar));
    return time;
}

/// Everything that datasets of the whole file share.
class Schema {
  public:
    Schema(H5::H5File& file, const Layout& layout, const RunProvenance& facts)
        : file_(file), layout_(layout) {
        time_ = create_time(file, layout.season.start);
        member_ = counted(file, "member", {"/member", "1", "member of the ensemble, 0 is central"},
                          0, facts.members);
        axis_ = named(file, "axis", {"/axis", "1", "axis of a vector, z up from the sand"},
                      {"x", "y", "z"});
        sector_ = measured(
            file, "sector",
            {"/sector", "rad", "direction of an outline's sector, from +x toward +y"}, angles());
        rank_ = counted(file, "rank",
                        {"/rank", "1", "place among the neighbours that shade, 1 the largest"}, 1,
                        kShadeRanks);
    }

    void write_colonies();
    void write_bed_grid(const BedGrid& bed);
    void write_flow(const FlowSample& flow);
    TrajectorySeries create_series();

  private:
    static std::vector<double> angles();
    void write_texts(const Meaning& meaning, const std::vector<std::string>& texts);
    void write_numbers(const Meaning& meaning, const std::vector<double>& numbers);
    SnapshotSeries series(const Meaning& meaning, const H5::DataType& type,
                          const std::vector<const Dimension*>& item, const void* fill);
    SnapshotSeries of_colonies(const std::string& name, const std::string& units,
                               const std::string& long_name);
    SnapshotSeries of_bed(const std::string& name, const std::string& units,
                          const std::string& long_name);

    H5::H5File& file_;
    const Layout& layout_;
    Dimension time_, member_, axis_, sector_, rank_, colony_, bed_x_, bed_y_;
};

std::vector<double> Schema::angles() {
    std::vector<double> angles;
    angles.reserve(kSectors);
    for (int s = 0; s < kSectors; ++s) angles.push_back(sector_angle_rad(s));
    return angles;
}

void Schema::write_texts(const Meaning& meaning, const std::vector<std::string>& texts) {
    const H5::StrType type = padded_text(longest(texts));
    const auto dataset = create_dataset(file_, meaning, type, {{&colony_, texts.size()}});
    if (!texts.empty()) dataset.write(padded_bytes(texts).data(), type);
}

void Schema::write_numbers(const Meaning& meaning, const std::vector<double>& numbers) {
    const auto dataset = create_dataset(file_, meaning, float64(), {{&colony_, numbers.size()}});
    if (!numbers.empty()) dataset.write(numbers.data(), float64());
}

void Schema::write_colonies() {
    std::vector<std::string> name, taxon, form, on;
    std::vector<double> azimuth_rad, tilt_rad;
    for (const auto& colony : layout_.colonies) {
        const ColonyFacts facts = facts_of(layout_, colony);
        name.push_back(facts.name);
        taxon.push_back(facts.taxon);
        form.emplace_back(to_string(facts.form));
        on.push_back(facts.on);
        azimuth_rad.push_back(facts.facing_azimuth_rad);
        tilt_rad.push_back(facts.facing_tilt_rad);
    }
    create_group(file_, "/colony");
    colony_ = named(file_, "colony", {"/colony/name", "1", "name of the colony"}, name);
    write_texts({"/colony/taxon", "1", "taxon of the trait table, by its id"}, taxon);
    write_texts({"/colony/form", "1", "growth form"}, form);
    write_texts({"/colony/on", "1", "what it stands on: sand, a rock, or empty where unsaid"}, on);
    write_numbers({"/colony/facing_azimuth", "rad", "direction in which its axis leans"},
                  azimuth_rad);
    write_numbers({"/colony/facing_tilt", "rad", "lean of its axis from straight up"}, tilt_rad);
}

void Schema::write_bed_grid(const BedGrid& bed) {
    std::vector<double> x_m, y_m;
    for (int i = 0; i < bed.nx; ++i) x_m.push_back(bed.x_m(i));
    for (int j = 0; j < bed.ny; ++j) y_m.push_back(bed.y_m(j));
    create_group(file_, "/bed");
    bed_x_ = measured(file_, "x", {"/bed/x", "m", "middle of the bed cell along the length"}, x_m);
    bed_y_ =
        measured(file_, "y", {"/bed/y", "m", "middle of the bed cell from front to back"}, y_m);
}

void Schema::write_flow(const FlowSample& flow) {
    create_group(file_, "/flow");
    const auto state = counted(
        file_, "state", {"/flow/state", "1", "setting of the pumps, by number"}, 0, flow.states);
    const auto x = measured(file_, "x", {"/flow/x", "m", "place along the length"}, flow.x_m);
    const auto y = measured(file_, "y", {"/flow/y", "m", "place from front to back"}, flow.y_m);
    const auto z = measured(file_, "z", {"/flow/z", "m", "height above the sand"}, flow.z_m);
    const std::vector<Extent> grid = {{&state, 1}, {&z, z.size}, {&y, y.size}, {&x, x.size}};
    auto vectors = grid;
    vectors.push_back({&axis_, axis_.size});
    const auto velocity = create_dataset(
        file_, {"/flow/velocity", "m s-1", "mean velocity of the water"}, float32(), vectors);
    const auto turbulent = create_dataset(
        file_, {"/flow/turbulent_speed", "m s-1", "root mean square speed of the turbulence"},
        float32(), grid);
    if (flow.points() == 0) return;
    velocity.write(flow.velocity_m_s.data(), float32());
    turbulent.write(flow.turbulent_speed_m_s.data(), float32());
}

SnapshotSeries Schema::series(const Meaning& meaning, const H5::DataType& type,
                              const std::vector<const Dimension*>& item, const void* fill) {
    std::vector<Extent> extents = {{&member_, 1}, {&time_, kSnapshotsPerChunk}};
    for (const Dimension* dimension : item) extents.push_back({dimension, dimension->size});
    return {create_dataset(file_, meaning, type, extents, fill), type};
}

SnapshotSeries Schema::of_colonies(const std::string& name, const std::string& units,
                                   const std::string& long_name) {
    return series({"/colony/" + name, units, long_name}, float32(), {&colony_}, &kNone);
}

SnapshotSeries Schema::of_bed(const std::string& name, const std::string& units,
                              const std::string& long_name) {
    return series({"/bed/" + name, units, long_name}, float32(), {&bed_y_, &bed_x_}, &kNone);
}

TrajectorySeries Schema::create_series() {
    const std::uint8_t zero = 0;
    const StoredShade nobody;
    std::vector<SnapshotSeries> figures;
    figures.reserve(kColonyQuantities.size());
    for (const auto& figure : kColonyQuantities)
        figures.push_back(of_colonies(figure.dataset, figure.units, figure.long_name));
    return {
        time_.scale,
        series({"/colony/present", "1", "1 while the colony is in the tank"}, uint8(), {&colony_},
               &zero),
        series({"/colony/stage", "1", "what the colony is going through"}, stage_type(), {&colony_},
               &zero),
        series({"/colony/position", "m", "place of its base"}, float32(), {&colony_, &axis_},
               &kNone),
        series({"/colony/outline", "m", "radius of its skeleton in each sector"}, float32(),
               {&colony_, &sector_}, &kNone),
        series({"/colony/shade_by", "1",
                "neighbours that shade it: index of the colony (-1 none) and the share taken of "
                "its light without neighbours"},
               shade_type(), {&colony_, &rank_}, &nobody),
        std::move(figures),
        of_bed("ppfd", "umol m-2 s-1",
               "photon flux density 400-700 nm on the bed, lamps at plateau"),
        of_bed("shear_stress", "Pa", "shear stress of the water on the bed"),
        of_bed("fallout", "kg m-2 d-1", "sand falling on the bed"),
        series({"/written", "1", "1 where the member's frame is in the file"}, uint8(), {}, &zero),
    };
}

}  // namespace

std::vector<SnapshotSeries*> TrajectorySeries::all() {
    std::vector<SnapshotSeries*> all = {&present, &stage, &position, &outline, &shade_by};
    for (auto& figure : figures) all.push_back(&figure);
    for (auto* last : {&bed_ppfd, &bed_shear_stress, &bed_deposition, &written})
        all.push_back(last);
    return all;
}

TrajectorySeries create_trajectory(H5::H5File& file, const Layout& layout, const BedGrid& bed,
                                   const RunProvenance& facts, const FlowSample* flow) {
    write_root(file, layout, facts);
    Schema schema(file, layout, facts);
    schema.write_colonies();
    schema.write_bed_grid(bed);
    if (flow != nullptr) schema.write_flow(*flow);
    // Made now, so that nothing but datasets that grow is touched once there are snapshots to lose.
    create_tables(file);
    return schema.create_series();
}

}  // namespace bedshade
