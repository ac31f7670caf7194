// The parts of the 3-D tank that do not change: glass, water, rock, lamps, pumps.

import * as three from "three";

import type { Lamp, Pump, Rock, Run } from "./run";

const INK = 0x1f2933;

function glass(run: Run): three.Object3D {
    const { length_m, width_m, water_depth_m, rim_m } = run.document.tank;
    const high = water_depth_m + rim_m;
    const box = new three.BoxGeometry(length_m, width_m, high);
    const edges = new three.LineSegments(
        new three.EdgesGeometry(box),
        new three.LineBasicMaterial({ color: INK, transparent: true, opacity: 0.6 }),
    );
    edges.position.set(length_m / 2, width_m / 2, high / 2);
    box.dispose();
    return edges;
}

function waterSurface(run: Run): three.Object3D {
    const { length_m, width_m, water_depth_m } = run.document.tank;
    const surface = new three.Mesh(
        new three.PlaneGeometry(length_m, width_m),
        new three.MeshBasicMaterial({
            color: 0x3a6ea5,
            transparent: true,
            opacity: 0.08,
            side: three.DoubleSide,
            depthWrite: false,
        }),
    );
    surface.position.set(length_m / 2, width_m / 2, water_depth_m);
    return surface;
}

function rock(run: Run, item: Rock): three.Object3D {
    const indexed = new three.BufferGeometry();
    indexed.setAttribute("position", new three.BufferAttribute(run.numbers(item.vertices_m) as Float32Array, 3));
    indexed.setIndex(new three.BufferAttribute(run.numbers(item.triangles) as Uint32Array, 1));
    return new three.Mesh(indexed, new three.MeshLambertMaterial({ color: 0x8a8178, flatShading: true }));
}

/** The lamp's face in its orientation: its axis leans from straight down toward `azimuth`. */
function lamp(item: Lamp): three.Object3D {
    const [along, across] = item.size_m.map((side) => Math.max(side, 0.02));
    const shape =
        item.shape === "rectangle"
            ? new three.BoxGeometry(along, across, 0.01)
            : new three.CylinderGeometry(along / 2, along / 2, 0.01, 24).rotateX(Math.PI / 2);
    const mesh = new three.Mesh(shape, new three.MeshBasicMaterial({ color: 0xfff7d6 }));
    mesh.add(new three.LineSegments(new three.EdgesGeometry(shape), new three.LineBasicMaterial({ color: INK })));
    mesh.position.fromArray(item.centre_m);
    const hinge = new three.Vector3(Math.sin(item.azimuth_rad), -Math.cos(item.azimuth_rad), 0);
    mesh.setRotationFromAxisAngle(hinge, item.tilt_rad);
    if (item.shape === "rectangle") mesh.rotateZ(item.azimuth_rad);
    return mesh;
}

function pump(item: Pump): three.Object3D {
    const at = new three.Vector3().fromArray(item.position_m);
    const direction = new three.Vector3().fromArray(item.direction);
    const group = new three.Group();
    const nozzle = new three.Mesh(new three.SphereGeometry(0.015, 12, 8), new three.MeshLambertMaterial({ color: INK }));
    nozzle.position.copy(at);
    group.add(nozzle, new three.ArrowHelper(direction, at, 0.12, INK, 0.04, 0.025));
    return group;
}

export function staticScene(run: Run): three.Group {
    const group = new three.Group();
    const { rocks, lamps, pumps } = run.document;
    group.add(glass(run), waterSurface(run));
    group.add(...rocks.map((item) => rock(run, item)), ...lamps.map(lamp), ...pumps.map(pump));
    return group;
}
