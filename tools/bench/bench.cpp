// Cost of a forecast: occlusion rays against a minimal loop of the ray library on the same scene,
// steps a second, and bytes a snapshot. Ratios are measured side by side in one run; absolute
// values hold for this machine today.
#include <benchmark/benchmark.h>
#include <chrono>
#include <embree3/rtcore.h>
#include <filesystem>
#include <memory>

#include "model/base/random.h"
#include "model/flow/solver/time_mean.h"
#include "model/flow/tank_flow.h"
#include "model/growth/forms.h"
#include "model/light/light_scene.h"
#include "model/light/rock_mesh.h"
#include "model/sediment/bed_sand.h"

#include "sim/input/layout/layout_reader.h"
#include "sim/place/placing.h"
#include "sim/run/calibration.h"
#include "sim/run/flow_cache.h"
#include "sim/run/forecast.h"
#include "sim/run/reef_light.h"
#include "sim/trajectory/trajectory_writer.h"

namespace {

using namespace bedshade;

const std::string kDemo = BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml";

const Layout& demo() {
    static const Layout layout = read_layout(kDemo).layout;
    return layout;
}

ColonyShape demo_shape(std::size_t i) {
    const Colony& colony = demo().colonies[i];
    return shape_of(demo().taxon_of(colony), colony, baseline_reef(demo()).colonies[i]);
}

/// Segments from the bed to the lamps, like those of the light field.
std::vector<Segment> bed_segments() {
    std::vector<Segment> segments;
    RandomStream stream(1, 0, Process::lamp_sampling, 0, 0);
    for (int i = 0; i < 20000; ++i) {
        const Vec3 from(demo().tank.length_m * stream.uniform(),
                        demo().tank.width_m * stream.uniform(), 1e-4);
        const Lamp& lamp = demo().lamps[static_cast<std::size_t>(i) % demo().lamps.size()];
        const Vec3 to(lamp.centre_m.x(), lamp.centre_m.y(), demo().tank.water_depth_m);
        segments.push_back({from.cast<float>(), (to - from).normalized().cast<float>(),
                            static_cast<float>((to - from).norm())});
    }
    return segments;
}

void count_rays(benchmark::State& state, std::size_t rays) {
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rays));
}

/// The occlusion query of LightScene.
void canopy_rays(benchmark::State& state) {
    LightScene scene(demo().rocks, static_cast<int>(demo().colonies.size()));
    for (std::size_t i = 0; i < demo().colonies.size(); ++i)
        scene.place(static_cast<int>(i), mesh_of(demo_shape(i)), 1e9);
    scene.commit();
    const auto segments = bed_segments();
    for (auto _ : state) {
        int hits = 0;
        for (const Segment& segment : segments) hits += scene.any_hit(segment) ? 1 : 0;
        benchmark::DoNotOptimize(hits);
    }
    count_rays(state, segments.size());
}
BENCHMARK(canopy_rays)->Unit(benchmark::kMillisecond);

/// The ray library alone on the same triangles: one static scene, one loop.
class BareScene {
  public:
    BareScene() : device_(rtcNewDevice("threads=1,isa=avx2")), scene_(rtcNewScene(device_)) {
        for (const Rock& rock : demo().rocks) attach(rock_mesh(rock));
        for (std::size_t i = 0; i < demo().colonies.size(); ++i) attach(mesh_of(demo_shape(i)));
        rtcCommitScene(scene_);
    }
    ~BareScene() {
        rtcReleaseScene(scene_);
        rtcReleaseDevice(device_);
    }
    BareScene(const BareScene&) = delete;
    BareScene& operator=(const BareScene&) = delete;

    RTCScene scene() const { return scene_; }

  private:
    void attach(const TriangleMesh& mesh) {
        RTCGeometry g = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* v = static_cast<float*>(rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_VERTEX, 0,
                                                              RTC_FORMAT_FLOAT3, 3 * sizeof(float),
                                                              mesh.vertices_m.size()));
        for (const auto& p : mesh.vertices_m) v = std::copy_n(p.data(), 3, v);
        auto* t = static_cast<unsigned*>(
            rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                    3 * sizeof(unsigned), mesh.triangles.size()));
        for (const auto& p : mesh.triangles) t = std::copy_n(p.data(), 3, t);
        rtcCommitGeometry(g);
        rtcAttachGeometry(scene_, g);
        rtcReleaseGeometry(g);
    }

    RTCDevice device_;
    RTCScene scene_;
};

void bare_rays(benchmark::State& state) {
    const BareScene bare;
    const auto segments = bed_segments();
    for (auto _ : state) {
        int hits = 0;
        for (const Segment& s : segments) {
            RTCIntersectContext context;
            rtcInitIntersectContext(&context);
            RTCRay ray{};
            ray.org_x = s.origin_m.x(), ray.org_y = s.origin_m.y(), ray.org_z = s.origin_m.z();
            ray.dir_x = s.direction.x(), ray.dir_y = s.direction.y(), ray.dir_z = s.direction.z();
            ray.tnear = 1e-5F, ray.tfar = s.length_m, ray.mask = ~0U;
            rtcOccluded1(bare.scene(), &context, &ray);
            hits += ray.tfar < 0.0F ? 1 : 0;
        }
        benchmark::DoNotOptimize(hits);
    }
    count_rays(state, segments.size());
}
BENCHMARK(bare_rays)->Unit(benchmark::kMillisecond);

/// Counts snapshots.
struct SnapshotCounter final : SnapshotSink {
    int count = 0;
    void take(const Snapshot& /*snapshot*/) override { ++count; }
};

/// Whole steps of the demo without writing; items are steps.
void demo_steps(benchmark::State& state) {
    process_flow_cache().flow_of(demo(), run_serially);  // solved once, measured by flow_solve
    const double scale = calibrate(demo()).output_scale;
    for (auto _ : state) {
        Forecast forecast(demo(), {1, 0, scale}, run_serially);
        for (int k = 0; k < 10; ++k) forecast.advance(forecast.observe(7.0));
    }
    state.SetItemsProcessed(state.iterations() * 10);
}
BENCHMARK(demo_steps)->Unit(benchmark::kMillisecond);

/// The demo's flow from rest; the argument is the cell size in millimetres.
void flow_solve(benchmark::State& state) {
    const FlowScene scene{demo().tank, demo().substrate.grain_m, demo().water, demo().pumps,
                          demo().rocks};
    const std::vector<bool> running(demo().pumps.size(), true);
    for (auto _ : state)
        benchmark::DoNotOptimize(
            solve_tank_flow(scene, running, 1e-3 * static_cast<double>(state.range(0))));
}
BENCHMARK(flow_solve)->Arg(60)->Arg(40)->Arg(30)->Unit(benchmark::kMillisecond);

/// The demo's scene with its first pump aimed lower by `lower` (0: as it is).
FlowScene demo_scene(double lower) {
    FlowScene scene{demo().tank, demo().substrate.grain_m, demo().water, demo().pumps,
                    demo().rocks};
    scene.pumps[0].direction = (scene.pumps[0].direction - Vec3(0.0, 0.0, lower)).normalized();
    return scene;
}

void run_turnovers(IncompressibleSolver& flow, double time_s, TimeMean* mean) {
    constexpr int kStepsPerSample = 5;
    for (double time = 0.0; time < time_s;) {
        const double dt = flow.stable_step_s();
        for (int i = 0; i < kStepsPerSample; ++i) flow.step(dt);
        if (mean != nullptr) mean->add(flow, kStepsPerSample * dt);
        time += kStepsPerSample * dt;
    }
}

/// The same from the developed flow of a tank whose first pump points elsewhere: only the mean over
/// two turnovers remains. No command does this; it shows what a warm start could save.
void flow_solve_from_neighbour(benchmark::State& state) {
    const double cell_m = 1e-3 * static_cast<double>(state.range(0));
    const FlowScene scene = demo_scene(0.0), neighbour = demo_scene(0.1);
    const std::vector<bool> running(scene.pumps.size(), true);
    const double turnover = turnover_s(scene, running);
    IncompressibleSolver start(tank_case(neighbour, running, cell_m), CarryTurbulence::yes);
    run_turnovers(start, 6.0 * turnover, nullptr);
    for (auto _ : state) {
        IncompressibleSolver flow(tank_case(scene, running, cell_m), CarryTurbulence::yes);
        flow.start_from(start.state());
        TimeMean mean(flow.grid());
        run_turnovers(flow, 2.0 * turnover, &mean);
        benchmark::DoNotOptimize(mean.velocity_m_s());
    }
}
BENCHMARK(flow_solve_from_neighbour)->Arg(40)->Unit(benchmark::kMillisecond);

std::unique_ptr<BedSand> demo_sand() {
    return std::make_unique<BedSand>(
        demo().tank, demo().substrate, demo().rocks, demo().inhabitants, demo().water,
        process_flow_cache().flow_of(demo(), run_serially), bed_grid_of(demo().tank));
}

/// Deposition of the demo's sand for a known flow: done by every run before its first step.
void deposition_weights(benchmark::State& state) {
    process_flow_cache().flow_of(demo(), run_serially);
    for (auto _ : state) benchmark::DoNotOptimize(demo_sand());
}
BENCHMARK(deposition_weights)->Unit(benchmark::kMillisecond);

/// Wall time of `work` [s].
template <class Work>
double seconds(const Work& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Two years of the demo: fraction of the flow solver in a run without a cached field, and of the
/// deposition weights in a run with one.
void flow_in_forecast(benchmark::State& state) {
    const double scale = calibrate(demo()).output_scale;
    const std::vector<bool> running(demo().pumps.size(), true);
    for (auto _ : state) {
        const double solve =
            seconds([&] { solve_tank_flow(demo_scene(0.0), running, flow_cell_m(demo().tank)); });
        process_flow_cache().flow_of(demo(), run_serially);
        const double weights = seconds([] { demo_sand(); });
        const double run = seconds([&] {
            Forecast forecast(demo(), {1, 0, scale}, run_serially);
            forecast.run({}, [](double) { return true; });
        });
        state.counters["solve_share_first_run"] = solve / (solve + run);
        state.counters["sand_plan_share"] = weights / run;
    }
}
BENCHMARK(flow_in_forecast)->Unit(benchmark::kMillisecond);

/// A wavy sheet of `side` by `side` quads over the middle of the demo's bed.
RockMesh sheet(int side) {
    std::vector<Vec3> vertices_m;
    std::vector<std::array<int, 3>> triangles;
    for (int j = 0; j <= side; ++j)
        for (int i = 0; i <= side; ++i)
            vertices_m.emplace_back(0.4 + 0.4 * i / side, 0.1 + 0.4 * j / side,
                                    0.05 + 0.02 * std::sin(0.7 * i) * std::sin(0.9 * j));
    for (int j = 0; j < side; ++j)
        for (int i = 0; i < side; ++i) {
            const int a = j * (side + 1) + i, b = a + side + 1;
            triangles.push_back({a, a + 1, b + 1});
            triangles.push_back({a, b + 1, b});
        }
    return {std::move(vertices_m), std::move(triangles)};
}

/// The demo's bed traced again with its own rock (0), or also with a sheet of so many quads a side.
void light_step_with_mesh(benchmark::State& state) {
    Layout layout = demo();
    if (state.range(0) > 0)
        layout.rocks.push_back({"sheet", sheet(static_cast<int>(state.range(0)))});
    LightField field(layout, bed_grid_of(layout.tank));
    for (auto _ : state) field.update(run_serially, true);
    state.counters["rock_triangles"] = 2.0 * static_cast<double>(state.range(0) * state.range(0));
}
BENCHMARK(light_step_with_mesh)->Arg(0)->Arg(1)->Arg(100)->Arg(500)->Unit(benchmark::kMillisecond);

/// The demo's two years with its trajectory; `bytes_a_frame` is the size of a snapshot on disk.
void demo_forecast_written(benchmark::State& state) {
    process_flow_cache().flow_of(demo(), run_serially);
    const auto path = std::filesystem::temp_directory_path() / "bedshade_bench.h5";
    const double scale = calibrate(demo()).output_scale;
    SnapshotCounter snapshots;
    for (auto _ : state) {
        Forecast forecast(demo(), {1, 0, scale}, run_serially);
        TrajectoryWriter writer(path, demo(), forecast.grid(), {});
        snapshots = {};
        forecast.run({&writer, &snapshots}, [](double) { return true; });
        writer.finish();
    }
    state.counters["bytes_a_frame"] =
        static_cast<double>(std::filesystem::file_size(path)) / snapshots.count;
    std::filesystem::remove(path);
}
BENCHMARK(demo_forecast_written)->Unit(benchmark::kMillisecond);

/// The demo's two years alone: the baseline of `demo_place`.
void demo_forecast(benchmark::State& state) {
    process_flow_cache().flow_of(demo(), run_serially);
    const double scale = calibrate(demo()).output_scale;
    for (auto _ : state)
        Forecast(demo(), {1, 0, scale}, run_serially).run({}, [](double) { return true; });
}
BENCHMARK(demo_forecast)->Unit(benchmark::kMillisecond);

/// Every taxon of the table on every spot of the demo's bed, with the forecast it needs.
void demo_place(benchmark::State& state) {
    process_flow_cache().flow_of(demo(), run_serially);
    const double scale = calibrate(demo()).output_scale;
    const auto keep_going = [](double) { return true; };
    for (auto _ : state) {
        std::vector<Candidate> candidates;
        const TraitTable traits = builtin_traits();
        for (const Taxon& taxon : traits.taxa()) candidates.push_back(candidate_of(taxon));
        const BedForecast bed(demo(), {1, 0, scale}, run_serially, keep_going);
        benchmark::DoNotOptimize(survey(bed, candidates, run_serially, keep_going));
    }
}
BENCHMARK(demo_place)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
