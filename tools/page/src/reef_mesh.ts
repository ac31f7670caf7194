// All colonies as one mesh: one buffer of points and one draw call, whatever their number.

import * as three from "three";

import { allTriangles, gridTriangles, writePoints, writeTissue, type Resolution } from "./body";
import type { Run } from "./run";

const TISSUE = new three.Color("#b4472e");
const CHOSEN = new three.Color("#0072b2");
const PALE = new three.Color("#f3e3d3");
const SKELETON = new three.Color("#b9b7ad");

/** For slow machines while something moves: every sixth corner, and the rings that form the
 *  silhouette of every growth form. */
const COARSE_RINGS = [1, 2, 4, 5, 8];
const COARSE_STEP = 6;

function fullResolution(run: Run): Resolution {
    return { step: 1, rings: Array.from({ length: run.profilePoints }, (_, ring) => ring) };
}

function coarseResolution(run: Run): Resolution {
    return { step: COARSE_STEP, rings: COARSE_RINGS.filter((ring) => ring < run.profilePoints) };
}

/** Vertex colours, and the colour of skeleton where the tissue value is negative. */
function reefMaterial(): three.Material {
    const material = new three.MeshLambertMaterial({ vertexColors: true, side: three.DoubleSide });
    material.onBeforeCompile = (shader) => {
        shader.uniforms.skeleton = { value: SKELETON };
        shader.vertexShader = shader.vertexShader
            .replace("#include <common>", "#include <common>\nattribute float tissue;\nvarying float vTissue;")
            .replace("#include <begin_vertex>", "#include <begin_vertex>\nvTissue = tissue;");
        shader.fragmentShader = shader.fragmentShader
            .replace("#include <common>", "#include <common>\nuniform vec3 skeleton;\nvarying float vTissue;")
            .replace(
                "#include <color_fragment>",
                "#include <color_fragment>\nif (vTissue < 0.0) diffuseColor.rgb = skeleton;",
            );
    };
    return material;
}

export class ReefMesh {
    readonly mesh: three.Mesh<three.BufferGeometry, three.Material>;
    private readonly points: number;
    private readonly fine: three.BufferAttribute;
    private readonly coarse: three.BufferAttribute;

    constructor(private readonly run: Run) {
        this.points = run.corners * run.profilePoints;
        const all = this.points * run.colonies;
        const geometry = new three.BufferGeometry();
        for (const [name, size] of Object.entries({ position: 3, normal: 3, color: 3, tissue: 1 }))
            geometry.setAttribute(name, new three.BufferAttribute(new Float32Array(size * all), size));
        this.fine = this.indices(fullResolution(run));
        this.coarse = this.indices(coarseResolution(run));
        geometry.setIndex(this.fine);
        this.mesh = new three.Mesh(geometry, reefMaterial());
        this.mesh.frustumCulled = false;
    }

    private indices(resolution: Resolution): three.BufferAttribute {
        const grid = gridTriangles(this.run.corners, resolution);
        return new three.BufferAttribute(allTriangles(grid, this.run.colonies, this.points), 1);
    }

    /** Fewer triangles while something moves. */
    setCoarse(coarse: boolean) {
        this.mesh.geometry.setIndex(coarse ? this.coarse : this.fine);
    }

    show(frame: number, chosen: number | null) {
        const { position, color, tissue } = this.mesh.geometry.attributes as Record<string, three.BufferAttribute>;
        for (let colony = 0; colony < this.run.colonies; ++colony) {
            const at = colony * this.points;
            writePoints(this.run, frame, colony, position.array as Float32Array, 3 * at);
            writeTissue(this.run, frame, colony, tissue.array as Float32Array, at);
            this.paint(frame, colony, colony === chosen, color);
        }
        this.setNormals();
        for (const attribute of [position, color, tissue]) attribute.needsUpdate = true;
    }

    /** A colony pales as its reserve is spent. */
    private paint(frame: number, colony: number, isChosen: boolean, to: three.BufferAttribute) {
        const reserve = this.run.value("reserve", frame, colony);
        const spent = Number.isFinite(reserve) ? 1 - Math.min(Math.max(reserve, 0), 1) : 0;
        const colour = (isChosen ? CHOSEN : TISSUE).clone().lerp(PALE, 0.85 * spent);
        for (let k = 0; k < this.points; ++k) to.setXYZ(colony * this.points + k, colour.r, colour.g, colour.b);
    }

    private setNormals() {
        const index = this.mesh.geometry.index;
        this.mesh.geometry.setIndex(this.fine);
        this.mesh.geometry.computeVertexNormals();
        this.mesh.geometry.setIndex(index);
    }

    /** The colony whose triangle was hit. */
    colonyOfFace(face: number): number {
        const index = this.mesh.geometry.index as three.BufferAttribute;
        return Math.floor(index.getX(3 * face) / this.points);
    }

    /** The box around a colony's points. */
    boxOf(colony: number): three.Box3 {
        const position = this.mesh.geometry.attributes.position as three.BufferAttribute;
        const box = new three.Box3();
        const point = new three.Vector3();
        for (let k = 0; k < this.points; ++k)
            box.expandByPoint(point.fromBufferAttribute(position, colony * this.points + k));
        return box;
    }
}
