#include "model/light/box_index.h"

#include <algorithm>
#include <utility>

#include "model/light/embree_ray.h"

namespace bedshade {
namespace {

/// Context that Embree passes to the callback, with the output list.
struct VisitContext {
    RTCIntersectContext embree;
    const Segment* segment = nullptr;
    std::vector<int>* boxes_hit = nullptr;
};

bool is_empty(const Box& box) { return (box.min.array() > box.max.array()).any(); }

void bounds_of_box(const RTCBoundsFunctionArguments* arguments) {
    const auto& box = static_cast<const Box*>(arguments->geometryUserPtr)[arguments->primID];
    // Rounded outward by more than one unit in the last place of a float: the exact test comes
    // later.
    constexpr double kRounding_m = 1e-5;
    const Vec3 low = box.min - Vec3::Constant(kRounding_m),
               high = box.max + Vec3::Constant(kRounding_m);
    RTCBounds& out = *arguments->bounds_o;
    out.lower_x = static_cast<float>(low.x());
    out.lower_y = static_cast<float>(low.y());
    out.lower_z = static_cast<float>(low.z());
    out.upper_x = static_cast<float>(high.x());
    out.upper_y = static_cast<float>(high.y());
    out.upper_z = static_cast<float>(high.z());
}

/// Records a box that the segment really intersects; the traversal continues.
void record_box(const RTCOccludedFunctionNArguments* arguments) {
    const auto* context = reinterpret_cast<const VisitContext*>(arguments->context);
    const auto& box = static_cast<const Box*>(arguments->geometryUserPtr)[arguments->primID];
    if (intersects(box, *context->segment))
        context->boxes_hit->push_back(static_cast<int>(arguments->primID));
}

}  // namespace

bool intersects(const Box& box, const Segment& segment) {
    double enter = 0.0, leave = segment.length_m;
    for (int axis = 0; axis < 3; ++axis) {
        const double start = segment.origin_m[axis], step = segment.direction[axis];
        if (step == 0.0) {
            if (start < box.min[axis] || start > box.max[axis]) return false;
            continue;
        }
        double a = (box.min[axis] - start) / step, b = (box.max[axis] - start) / step;
        if (a > b) std::swap(a, b);
        enter = std::max(enter, a);
        leave = std::min(leave, b);
        if (enter > leave) return false;
    }
    return true;
}

struct BoxIndex::Scene {
    RTCDevice device = pinned_device();
    RTCScene scene = nullptr;
    std::vector<Box> boxes;   // those that are not empty
    std::vector<int> number;  // index of each in the list given

    Scene() = default;
    ~Scene() {
        if (scene != nullptr) rtcReleaseScene(scene);
        rtcReleaseDevice(device);
    }
    Scene(const Scene&) = delete;
    Scene& operator=(const Scene&) = delete;
};

BoxIndex::BoxIndex() : scene_(std::make_unique<Scene>()) {}
BoxIndex::~BoxIndex() = default;

void BoxIndex::build(const std::vector<Box>& boxes) {
    Scene& s = *scene_;
    s.boxes.clear();
    s.number.clear();
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        if (is_empty(boxes[i])) continue;
        s.boxes.push_back(boxes[i]);
        s.number.push_back(static_cast<int>(i));
    }
    if (s.scene != nullptr) rtcReleaseScene(s.scene);
    s.scene = rtcNewScene(s.device);
    RTCGeometry geometry = rtcNewGeometry(s.device, RTC_GEOMETRY_TYPE_USER);
    rtcSetGeometryUserPrimitiveCount(geometry, static_cast<unsigned>(s.boxes.size()));
    rtcSetGeometryUserData(geometry, s.boxes.data());
    rtcSetGeometryBoundsFunction(geometry, bounds_of_box, nullptr);
    rtcSetGeometryOccludedFunction(geometry, record_box);
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(s.scene, geometry);
    rtcReleaseGeometry(geometry);
    rtcCommitScene(s.scene);
}

void BoxIndex::boxes_hit(const Segment& segment, std::vector<int>& out) const {
    out.clear();
    VisitContext context{};
    rtcInitIntersectContext(&context.embree);
    context.segment = &segment;
    context.boxes_hit = &out;
    RTCRay ray = ray_of(segment, 0.0F);
    rtcOccluded1(scene_->scene, &context.embree, &ray);
    for (int& box : out) box = scene_->number[static_cast<std::size_t>(box)];
    std::sort(out.begin(), out.end());
}

}  // namespace bedshade
