// Ray queries with Embree: one configuration of the library, one conversion of a segment. Only for
// source files that call Embree; no other header includes this.
#pragma once

#include <embree3/rtcore.h>
#include <stdexcept>

#include "model/light/light_scene.h"

namespace bedshade {

/// A single-threaded device, pinned to one instruction set because distances differ between
/// instruction sets. The caller releases it. Throws std::runtime_error when the library cannot
/// start.
inline RTCDevice pinned_device() {
    RTCDevice device = rtcNewDevice("threads=1,isa=avx2,set_affinity=0");
    if (device == nullptr) throw std::runtime_error("the ray-tracing library could not start");
    return device;
}

/// A segment as a ray that starts `near_m` from its origin.
inline RTCRay ray_of(const Segment& segment, float near_m) {
    RTCRay ray{};
    ray.org_x = segment.origin_m.x();
    ray.org_y = segment.origin_m.y();
    ray.org_z = segment.origin_m.z();
    ray.dir_x = segment.direction.x();
    ray.dir_y = segment.direction.y();
    ray.dir_z = segment.direction.z();
    ray.tnear = near_m;
    ray.tfar = segment.length_m;
    ray.mask = ~0U;
    return ray;
}

}  // namespace bedshade
