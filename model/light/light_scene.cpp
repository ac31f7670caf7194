#include "model/light/light_scene.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <new>

#include "model/light/embree_ray.h"
#include "model/light/rock_mesh.h"

namespace bedshade {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr float kNear_m = 1e-5F;  // rays start this far from their receptor

/// One surface hit on a segment.
struct SurfaceHit {
    unsigned geometry = 0;
    double distance_m = 0.0;
    bool leaving = false;
};

/// Order along a segment. At equal distance a surface is entered before it is left, in whatever
/// order Embree reports its triangles (which depends on the rest of the scene).
bool precedes(const SurfaceHit& a, const SurfaceHit& b) {
    if (a.distance_m != b.distance_m) return a.distance_m < b.distance_m;
    if (a.geometry != b.geometry) return a.geometry < b.geometry;
    return !a.leaving && b.leaving;
}

/// Context that Embree passes to the filter function, with the output list.
struct GatherContext {
    RTCIntersectContext embree;  // first, so that one pointer serves both
    const Segment* segment = nullptr;
    const std::vector<TriangleMesh>* meshes = nullptr;
    const std::vector<double>* extinction_per_m = nullptr;
    unsigned own = ~0U;  // geometry that is ignored
    std::vector<SurfaceHit>* hits = nullptr;
};

SurfaceHit surface_hit(const TriangleMesh& mesh, unsigned geometry, unsigned triangle,
                       const Segment& segment) {
    const auto [a, b, c] = corners_m(mesh, triangle);
    const Vec3 normal = (b - a).cross(c - a);
    const Vec3 direction = segment.direction.cast<double>();
    const double facing = normal.dot(direction);
    const double distance = normal.dot(a - segment.origin_m.cast<double>()) / facing;
    return {geometry, facing == 0.0 ? 0.0 : distance, facing > 0.0};
}

/// Records every hit; the ray continues.
void record_hit(const RTCFilterFunctionNArguments* arguments) {
    auto* context = reinterpret_cast<GatherContext*>(arguments->context);
    const unsigned geometry = RTCHitN_geomID(arguments->hit, arguments->N, 0);
    const unsigned triangle = RTCHitN_primID(arguments->hit, arguments->N, 0);
    context->hits->push_back(
        surface_hit((*context->meshes)[geometry], geometry, triangle, *context->segment));
    arguments->valid[0] = 0;
}

/// Lets the ray pass its own colony and porous ones, and records the latter.
void pass_porous(const RTCFilterFunctionNArguments* arguments) {
    const auto* context = reinterpret_cast<GatherContext*>(arguments->context);
    const unsigned geometry = RTCHitN_geomID(arguments->hit, arguments->N, 0);
    if (geometry == context->own)
        arguments->valid[0] = 0;
    else if (!std::isinf((*context->extinction_per_m)[geometry]))
        record_hit(arguments);
}

/// The point where the optical depth of canopies along a segment reaches `optical_depth`.
struct PorousHit {
    double distance_m = kInfinity;
    unsigned geometry = 0;
};

/// Integrates the extinction through canopies, which may overlap. `hits` are their surfaces; a ray
/// through an edge can hit both triangles beside it, and such pairs count once.
PorousHit first_porous_hit(std::vector<SurfaceHit>& hits,
                           const std::vector<double>& extinction_per_m, double optical_depth) {
    std::sort(hits.begin(), hits.end(), precedes);
    thread_local std::vector<unsigned> within;
    within.clear();
    const auto is_within = [&](unsigned g) {
        return std::find(within.begin(), within.end(), g) != within.end();
    };
    for (std::size_t i = 0; i < hits.size();
         ++i) {  // left before entered: the segment starts inside
        const bool first =
            std::none_of(hits.begin(), hits.begin() + static_cast<std::ptrdiff_t>(i),
                         [&](const auto& h) { return h.geometry == hits[i].geometry; });
        if (first && hits[i].leaving) within.push_back(hits[i].geometry);
    }
    double here = 0.0, left = optical_depth;
    for (const SurfaceHit& hit : hits) {
        double k = 0.0;
        for (const unsigned g : within) k += extinction_per_m[g];
        const double lost = k * (hit.distance_m - here);
        if (lost >= left && k > 0.0) return {here + left / k, within.back()};
        left -= lost;
        here = hit.distance_m;
        if (hit.leaving == is_within(hit.geometry)) {
            if (hit.leaving)
                within.erase(std::find(within.begin(), within.end(), hit.geometry));
            else
                within.push_back(hit.geometry);
        }
    }
    return {};
}

/// Length inside one closed surface, from its hits sorted by distance. A ray through an edge can
/// hit both triangles beside it; such pairs count once.
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

/// Sorts hits by geometry and distance, and calls `body(begin, end)` for those of each geometry.
template <class Body>
void for_each_body(std::vector<SurfaceHit>& hits, Body body) {
    std::sort(hits.begin(), hits.end(), [](const SurfaceHit& a, const SurfaceHit& b) {
        return a.geometry != b.geometry ? a.geometry < b.geometry : precedes(a, b);
    });
    for (std::size_t i = 0, end = 0; i < hits.size(); i = end) {
        while (end < hits.size() && hits[end].geometry == hits[i].geometry) ++end;
        body(hits.data() + i, hits.data() + end);
    }
}

}  // namespace

struct LightScene::Scene {
    RTCDevice device = nullptr;
    RTCScene scene = nullptr;
    std::vector<RTCGeometry> geometries;  // null when not placed; rocks first
    std::vector<TriangleMesh> meshes;     // same order: what the geometries were made from
    std::vector<double> extinction_per_m;
    unsigned rocks = 0;

    explicit Scene(std::size_t count) : geometries(count), meshes(count), extinction_per_m(count) {
        device = pinned_device();
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

    void set(unsigned id, const TriangleMesh& mesh, double extinction);
    void remove(unsigned id);
    /// Context of a query along a segment that calls `filter` for each surface and records in
    /// `hits`, cleared first.
    GatherContext gather(const Segment& segment, RTCFilterFunctionN filter,
                         std::vector<SurfaceHit>& hits) const;

  private:
    void upload(unsigned id, bool same_topology);
};

GatherContext LightScene::Scene::gather(const Segment& segment, RTCFilterFunctionN filter,
                                        std::vector<SurfaceHit>& hits) const {
    hits.clear();
    GatherContext context{};
    rtcInitIntersectContext(&context.embree);
    context.embree.filter = filter;
    context.segment = &segment;
    context.meshes = &meshes;
    context.extinction_per_m = &extinction_per_m;
    context.hits = &hits;
    return context;
}

void LightScene::Scene::set(unsigned id, const TriangleMesh& mesh, double extinction) {
    const bool same_topology = geometries[id] != nullptr &&
                               meshes[id].vertices_m.size() == mesh.vertices_m.size() &&
                               meshes[id].triangles.size() == mesh.triangles.size();
    if (!same_topology) remove(id);
    meshes[id] = mesh;
    extinction_per_m[id] = extinction;
    upload(id, same_topology);
}

void LightScene::Scene::upload(unsigned id, bool same_topology) {
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

void LightScene::Scene::remove(unsigned id) {
    if (geometries[id] == nullptr) return;
    rtcDetachGeometry(scene, id);
    rtcReleaseGeometry(geometries[id]);
    geometries[id] = nullptr;
}

LightScene::LightScene(const std::vector<Rock>& rocks, int colonies)
    : scene_(std::make_unique<Scene>(rocks.size() + static_cast<std::size_t>(colonies))) {
    scene_->rocks = static_cast<unsigned>(rocks.size());
    for (unsigned i = 0; i < scene_->rocks; ++i) scene_->set(i, rock_mesh(rocks[i]), kInfinity);
}

LightScene::~LightScene() = default;

void LightScene::place(int colony, const TriangleMesh& mesh, double extinction) {
    scene_->set(scene_->rocks + static_cast<unsigned>(colony), mesh, extinction);
}

void LightScene::remove(int colony) {
    scene_->remove(scene_->rocks + static_cast<unsigned>(colony));
}

void LightScene::commit() { rtcCommitScene(scene_->scene); }

bool LightScene::any_hit(const Segment& segment) const {
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    RTCRay ray = ray_of(segment, kNear_m);
    rtcOccluded1(scene_->scene, &context, &ray);
    return ray.tfar < 0.0F;
}

double LightScene::transmittance(const Segment& segment) const {
    thread_local std::vector<SurfaceHit> hits;
    GatherContext context = scene_->gather(segment, pass_porous, hits);
    RTCRay ray = ray_of(segment, kNear_m);
    rtcOccluded1(scene_->scene, &context.embree, &ray);
    if (ray.tfar < 0.0F) return 0.0;
    double depth = 0.0;
    for_each_body(hits, [&](const SurfaceHit* begin, const SurfaceHit* end) {
        depth += scene_->extinction_per_m[begin->geometry] * chord_m(begin, end, segment.length_m);
    });
    return depth > 0.0 ? std::exp(-depth) : 1.0;
}

bool LightScene::intersections(const Segment& segment, std::vector<Intersection>& out) const {
    thread_local std::vector<SurfaceHit> hits;
    GatherContext context = scene_->gather(segment, record_hit, hits);
    RTCRay ray = ray_of(segment, kNear_m);
    rtcOccluded1(scene_->scene, &context.embree, &ray);

    out.clear();
    bool clear_of_rock = true;
    for_each_body(hits, [&](const SurfaceHit* begin, const SurfaceHit* end) {
        const unsigned id = begin->geometry;
        if (id < scene_->rocks) {
            clear_of_rock = false;
            return;
        }
        const double k = scene_->extinction_per_m[id];
        const double through =
            std::isinf(k) ? 0.0 : std::exp(-k * chord_m(begin, end, segment.length_m));
        out.push_back({static_cast<int>(id - scene_->rocks), through});
    });
    return clear_of_rock;
}

bool LightScene::first_hit(const Segment& segment, int own, double optical_depth, Hit& out) const {
    thread_local std::vector<SurfaceHit> hits;
    GatherContext context = scene_->gather(segment, pass_porous, hits);
    if (own >= 0) context.own = scene_->rocks + static_cast<unsigned>(own);
    RTCRayHit query{};
    query.ray = ray_of(segment, kNear_m);
    query.hit.geomID = RTC_INVALID_GEOMETRY_ID;
    rtcIntersect1(scene_->scene, &context.embree, &query);

    const bool found_hit = query.hit.geomID != RTC_INVALID_GEOMETRY_ID;
    if (!hits.empty()) {
        const PorousHit porous = first_porous_hit(hits, scene_->extinction_per_m, optical_depth);
        if (porous.distance_m < (found_hit ? query.ray.tfar : segment.length_m)) {
            out = {false, static_cast<int>(porous.geometry - scene_->rocks),
                   static_cast<float>(porous.distance_m), Eigen::Vector3f::Zero(), false};
            return true;
        }
    }
    if (!found_hit) return false;
    const unsigned id = query.hit.geomID;
    out.by_rock = id < scene_->rocks;
    out.index = static_cast<int>(out.by_rock ? id : id - scene_->rocks);
    out.distance_m = query.ray.tfar;
    out.normal = Eigen::Vector3f(query.hit.Ng_x, query.hit.Ng_y, query.hit.Ng_z).normalized();
    out.from_inside = out.normal.dot(segment.direction) > 0.0F;
    return true;
}

double extinction_per_m(double canopy_m2_per_m3) {
    constexpr double kSphericalProjection = 0.5;
    return canopy_m2_per_m3 > 0.0 ? kSphericalProjection * canopy_m2_per_m3 : kInfinity;
}

}  // namespace bedshade
