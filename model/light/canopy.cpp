#include "model/light/canopy.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <embree3/rtcore.h>
#include <limits>
#include <stdexcept>

#include "model/light/rock_mesh.h"

namespace bedshade {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr float kNear = 1e-5F;  // metres: rays start this far from their receptor

/// One surface met along a segment.
struct SurfaceHit {
    unsigned geometry = 0;
    double distance_m = 0.0;
    bool leaving = false;
};

/// The context Embree hands back to the filter, with the place to note hits in.
struct GatherContext {
    RTCIntersectContext embree;
    const Segment* segment = nullptr;
    const std::vector<TriangleMesh>* meshes = nullptr;
    std::vector<SurfaceHit>* hits = nullptr;
};

RTCRay to_ray(const Segment& s) {
    RTCRay ray{};
    ray.org_x = s.origin_m.x();
    ray.org_y = s.origin_m.y();
    ray.org_z = s.origin_m.z();
    ray.dir_x = s.direction.x();
    ray.dir_y = s.direction.y();
    ray.dir_z = s.direction.z();
    ray.tnear = kNear;
    ray.tfar = s.length_m;
    ray.mask = ~0U;
    return ray;
}

SurfaceHit surface_hit(const TriangleMesh& mesh, unsigned geometry, unsigned triangle,
                       const Segment& segment) {
    const auto& t = mesh.triangles[triangle];
    const Vec3 a = mesh.vertices_m[t[0]].cast<double>();
    const Vec3 b = mesh.vertices_m[t[1]].cast<double>();
    const Vec3 c = mesh.vertices_m[t[2]].cast<double>();
    const Vec3 normal = (b - a).cross(c - a);
    const Vec3 direction = segment.direction.cast<double>();
    const double facing = normal.dot(direction);
    const double distance = normal.dot(a - segment.origin_m.cast<double>()) / facing;
    return {geometry, facing == 0.0 ? 0.0 : distance, facing > 0.0};
}

/// Notes every hit and lets the ray go on.
void note_hit(const RTCFilterFunctionNArguments* arguments) {
    auto* context = reinterpret_cast<GatherContext*>(arguments->context);
    const unsigned geometry = RTCHitN_geomID(arguments->hit, arguments->N, 0);
    const unsigned triangle = RTCHitN_primID(arguments->hit, arguments->N, 0);
    context->hits->push_back(
        surface_hit((*context->meshes)[geometry], geometry, triangle, *context->segment));
    arguments->valid[0] = 0;
}

/// Length inside one closed surface, from its hits sorted by distance. A ray through an edge can
/// meet both triangles beside it; such twins count once.
double chord_m(const SurfaceHit* begin, const SurfaceHit* end, double length_m) {
    double chord = 0.0;
    double entered = 0.0;  // a segment that starts inside has entered at its start
    bool is_inside = begin->leaving;
    for (const SurfaceHit* hit = begin; hit != end; ++hit) {
        if (hit->leaving == !is_inside) continue;
        if (hit->leaving)
            chord += hit->distance_m - entered;
        else
            entered = hit->distance_m;
        is_inside = !is_inside;
    }
    if (is_inside) chord += length_m - entered;
    return std::max(0.0, chord);
}

}  // namespace

struct Canopy::Scene {
    RTCDevice device = nullptr;
    RTCScene scene = nullptr;
    std::vector<RTCGeometry> geometries;  // null when not placed; rocks first
    std::vector<TriangleMesh> meshes;     // same order: what the geometries were made from
    std::vector<double> extinction_per_m;
    unsigned rocks = 0;

    explicit Scene(std::size_t count) : geometries(count), meshes(count), extinction_per_m(count) {
        device = rtcNewDevice("threads=1,isa=avx2,set_affinity=0");
        if (device == nullptr) throw std::runtime_error("the ray-tracing library could not start");
        scene = rtcNewScene(device);
        rtcSetSceneFlags(scene, static_cast<RTCSceneFlags>(RTC_SCENE_FLAG_DYNAMIC |
                                                           RTC_SCENE_FLAG_CONTEXT_FILTER_FUNCTION));
        rtcSetSceneBuildQuality(scene, RTC_BUILD_QUALITY_LOW);
    }
    ~Scene() {
        for (RTCGeometry g : geometries)
            if (g != nullptr) rtcReleaseGeometry(g);
        rtcReleaseScene(scene);
        rtcReleaseDevice(device);
    }
    Scene(const Scene&) = delete;
    Scene& operator=(const Scene&) = delete;

    void put(unsigned id, const TriangleMesh& mesh, double extinction);
    void take_away(unsigned id);

  private:
    void fill(unsigned id, bool same_topology);
};

void Canopy::Scene::put(unsigned id, const TriangleMesh& mesh, double extinction) {
    const bool same_topology = geometries[id] != nullptr &&
                               meshes[id].vertices_m.size() == mesh.vertices_m.size() &&
                               meshes[id].triangles.size() == mesh.triangles.size();
    if (!same_topology) take_away(id);
    meshes[id] = mesh;
    extinction_per_m[id] = extinction;
    fill(id, same_topology);
}

void Canopy::Scene::fill(unsigned id, bool same_topology) {
    const TriangleMesh& mesh = meshes[id];
    if (!same_topology) geometries[id] = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
    RTCGeometry geometry = geometries[id];
    auto* vertices = static_cast<float*>(
        same_topology
            ? rtcGetGeometryBufferData(geometry, RTC_BUFFER_TYPE_VERTEX, 0)
            : rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                      3 * sizeof(float), mesh.vertices_m.size()));
    if (vertices == nullptr) throw std::bad_alloc();
    for (const auto& v : mesh.vertices_m) vertices = std::copy_n(v.data(), 3, vertices);
    if (same_topology) {
        rtcUpdateGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0);
    } else {
        auto* indices = static_cast<unsigned*>(
            rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                    3 * sizeof(unsigned), mesh.triangles.size()));
        if (indices == nullptr) throw std::bad_alloc();
        for (const auto& t : mesh.triangles) indices = std::copy_n(t.data(), 3, indices);
    }
    rtcCommitGeometry(geometry);
    if (!same_topology) rtcAttachGeometryByID(scene, geometry, id);
}

void Canopy::Scene::take_away(unsigned id) {
    if (geometries[id] == nullptr) return;
    rtcDetachGeometry(scene, id);
    rtcReleaseGeometry(geometries[id]);
    geometries[id] = nullptr;
}

Canopy::Canopy(const std::vector<Rock>& rocks, int colonies)
    : scene_(std::make_unique<Scene>(rocks.size() + static_cast<std::size_t>(colonies))) {
    scene_->rocks = static_cast<unsigned>(rocks.size());
    for (unsigned i = 0; i < scene_->rocks; ++i) scene_->put(i, rock_mesh(rocks[i]), kInfinity);
}

Canopy::~Canopy() = default;

void Canopy::place(int colony, const TriangleMesh& mesh, double extinction) {
    scene_->put(scene_->rocks + static_cast<unsigned>(colony), mesh, extinction);
}

void Canopy::take_away(int colony) {
    scene_->take_away(scene_->rocks + static_cast<unsigned>(colony));
}

void Canopy::commit() { rtcCommitScene(scene_->scene); }

bool Canopy::meets_anything(const Segment& segment) const {
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    RTCRay ray = to_ray(segment);
    rtcOccluded1(scene_->scene, &context, &ray);
    return ray.tfar < 0.0F;
}

bool Canopy::crossings(const Segment& segment, std::vector<Crossing>& out) const {
    thread_local std::vector<SurfaceHit> hits;
    hits.clear();
    GatherContext context{};
    rtcInitIntersectContext(&context.embree);
    context.embree.filter = note_hit;
    context.segment = &segment;
    context.meshes = &scene_->meshes;
    context.hits = &hits;
    RTCRay ray = to_ray(segment);
    rtcOccluded1(scene_->scene, &context.embree, &ray);

    out.clear();
    std::sort(hits.begin(), hits.end(), [](const SurfaceHit& a, const SurfaceHit& b) {
        return a.geometry != b.geometry ? a.geometry < b.geometry : a.distance_m < b.distance_m;
    });
    if (!hits.empty() && hits.front().geometry < scene_->rocks) return false;
    for (std::size_t i = 0, end = 0; i < hits.size(); i = end) {
        const unsigned id = hits[i].geometry;
        while (end < hits.size() && hits[end].geometry == id) ++end;
        const double k = scene_->extinction_per_m[id];
        const double chord =
            std::isinf(k) ? 0.0 : chord_m(&hits[i], hits.data() + end, segment.length_m);
        out.push_back(
            {static_cast<int>(id - scene_->rocks), std::isinf(k) ? 0.0 : std::exp(-k * chord)});
    }
    return true;
}

double extinction_per_m(double canopy_m2_per_m3) {
    constexpr double kSphericalProjection = 0.5;
    return canopy_m2_per_m3 > 0.0 ? kSphericalProjection * canopy_m2_per_m3 : kInfinity;
}

}  // namespace bedshade
