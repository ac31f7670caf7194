// The tank in three dimensions. It is drawn only when something changes.

import * as three from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

import { coloursOf } from "./bed_maps";
import { Labels } from "./labels";
import { ReefMesh } from "./reef_mesh";
import type { Run } from "./run";
import { staticScene } from "./static_scene";
import type { Callbacks, ViewState } from "./view";

/** With more corals than this only the chosen one and those that shade it are labelled. */
const MAX_LABELS = 60;
/** Above this time per picture, moving pictures are drawn at coarse resolution. */
const SLOW_MS = 50;

/** The name of the graphics driver, or null if there is no WebGL. */
function driverName(): string | null {
    const gl = document.createElement("canvas").getContext("webgl2");
    if (gl === null) return null;
    const info = gl.getExtension("WEBGL_debug_renderer_info");
    const name = info === null ? "" : String(gl.getParameter(info.UNMASKED_RENDERER_WEBGL));
    gl.getExtension("WEBGL_lose_context")?.loseContext();
    return name;
}

export class TankView {
    private readonly renderer: three.WebGLRenderer;
    private readonly scene = new three.Scene();
    private readonly camera = new three.PerspectiveCamera(32, 1, 0.01, 60);
    private readonly controls: OrbitControls;
    private readonly reef: ReefMesh;
    private readonly bedTexture: three.DataTexture;
    private readonly labels: Labels;
    private state: ViewState | null = null;
    private drawRequested = false;
    private moving = false;
    private slow: boolean;
    private lastDrawn_ms = 0;

    /** Throws if the browser has no WebGL. */
    constructor(
        private readonly box: HTMLElement,
        labelLayer: HTMLElement,
        private readonly run: Run,
        private readonly callbacks: Callbacks,
    ) {
        const driver = driverName();
        if (driver === null) throw new Error("this browser has no WebGL");
        this.slow = /swiftshader|llvmpipe|software/i.test(driver);
        this.renderer = new three.WebGLRenderer({ antialias: !this.slow });
        this.renderer.setClearColor(0xf4f6f8);
        this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
        const canvas = this.renderer.domElement;
        canvas.tabIndex = 0;
        canvas.setAttribute("role", "img");
        box.prepend(canvas);
        this.labels = new Labels(labelLayer);
        this.reef = new ReefMesh(run);
        const { nx, ny } = run.document.bed;
        this.bedTexture = new three.DataTexture(new Uint8Array(4 * nx * ny), nx, ny);
        this.buildScene();
        this.controls = this.makeControls(canvas);
        this.listen(canvas);
    }

    private buildScene() {
        const { length_m, width_m } = this.run.document.tank;
        this.bedTexture.colorSpace = three.SRGBColorSpace;
        const bed = new three.Mesh(
            new three.PlaneGeometry(length_m, width_m),
            new three.MeshBasicMaterial({ map: this.bedTexture }),
        );
        bed.position.set(length_m / 2, width_m / 2, 0);
        const sun = new three.DirectionalLight(0xffffff, 2.0);
        sun.position.set(-0.4, -1, 2);
        this.scene.add(new three.HemisphereLight(0xffffff, 0x9a938a, 1.6), sun);
        this.scene.add(bed, staticScene(this.run), this.reef.mesh);
    }

    private makeControls(canvas: HTMLCanvasElement): OrbitControls {
        const { length_m, width_m, water_depth_m } = this.run.document.tank;
        const size = Math.hypot(length_m, width_m, water_depth_m);
        this.camera.up.set(0, 0, 1);
        this.camera.position.set(length_m * 0.36, -1.3 * size, 0.85 * size);
        const controls = new OrbitControls(this.camera, canvas);
        controls.target.set(length_m / 2, width_m / 2, water_depth_m * 0.45);
        controls.minDistance = 0.15 * size;
        controls.maxDistance = 6 * size;
        controls.update();
        controls.addEventListener("change", () => this.requestDraw());
        controls.addEventListener("start", () => this.setMoving(true));
        controls.addEventListener("end", () => this.setMoving(false));
        return controls;
    }

    private listen(canvas: HTMLCanvasElement) {
        let pressed = { x: 0, y: 0 };
        canvas.addEventListener("pointerdown", (event) => (pressed = { x: event.clientX, y: event.clientY }));
        canvas.addEventListener("click", (event) => {
            const dragged = Math.hypot(event.clientX - pressed.x, event.clientY - pressed.y) > 4;
            if (!dragged) this.callbacks.choose(this.colonyUnder(event));
        });
        canvas.addEventListener("pointermove", (event) => {
            if (!this.moving) this.callbacks.point(this.spotUnder(event));
        });
        canvas.addEventListener("pointerleave", () => this.callbacks.point(null));
        canvas.addEventListener("keydown", (event) => this.moveCamera(event));
        new ResizeObserver(() => this.requestDraw()).observe(this.box);
    }

    onLost(act: () => void) {
        this.renderer.domElement.addEventListener("webglcontextlost", act);
    }

    /** Arrow keys turn the tank, plus and minus zoom. */
    private moveCamera(event: KeyboardEvent) {
        const turns: Record<string, [number, number]> = {
            ArrowLeft: [-0.1, 0],
            ArrowRight: [0.1, 0],
            ArrowUp: [0, -0.08],
            ArrowDown: [0, 0.08],
        };
        const zooms: Record<string, number> = { "+": 0.9, "=": 0.9, "-": 1.1 };
        const arm = this.camera.position.clone().sub(this.controls.target);
        if (event.key in turns) this.turn(arm, turns[event.key]);
        else if (event.key in zooms) arm.multiplyScalar(zooms[event.key]);
        else return;
        event.preventDefault();
        this.camera.position.copy(this.controls.target).add(arm);
        this.controls.update();
        this.requestDraw();
    }

    private turn(arm: three.Vector3, [round, up]: [number, number]) {
        const sphere = new three.Spherical().setFromCartesianCoords(arm.x, arm.z, -arm.y);
        sphere.theta += round;
        sphere.phi = Math.min(Math.max(sphere.phi + up, 0.05), Math.PI - 0.05);
        const turned = new three.Vector3().setFromSpherical(sphere);
        arm.set(turned.x, -turned.z, turned.y);
    }

    private rayUnder(event: MouseEvent): three.Raycaster {
        const area = this.renderer.domElement.getBoundingClientRect();
        const x = ((event.clientX - area.left) / area.width) * 2 - 1;
        const y = 1 - ((event.clientY - area.top) / area.height) * 2;
        const ray = new three.Raycaster();
        ray.setFromCamera(new three.Vector2(x, y), this.camera);
        return ray;
    }

    private colonyUnder(event: MouseEvent): number | null {
        this.reef.mesh.geometry.computeBoundingSphere();
        const hits = this.rayUnder(event).intersectObject(this.reef.mesh, false);
        const face = hits.length > 0 ? hits[0].faceIndex : null;
        return face === null || face === undefined ? null : this.reef.colonyOfFace(face);
    }

    private spotUnder(event: MouseEvent): [number, number] | null {
        const bed = new three.Plane(new three.Vector3(0, 0, 1), 0);
        const spot = this.rayUnder(event).ray.intersectPlane(bed, new three.Vector3());
        return spot === null ? null : [spot.x, spot.y];
    }

    show(state: ViewState) {
        this.state = state;
        this.reef.show(state.frame, state.colony);
        this.bedTexture.image.data?.set(coloursOf(this.run, state.map, state.frame, state.scale));
        this.bedTexture.needsUpdate = true;
        this.label(state);
        this.requestDraw();
    }

    /** Sets the description for screen readers. */
    describe(description: string) {
        this.renderer.domElement.setAttribute("aria-label", description);
    }

    private label(state: ViewState) {
        this.labels.clear();
        const { length_m } = this.run.document.tank;
        this.labels.add(`front, ${(100 * length_m).toFixed(0)} cm`, new three.Vector3(length_m / 2, -0.03, 0), "edge");
        const shades = state.colony === null ? [] : this.run.shades(state.frame, state.colony);
        for (let colony = 0; colony < this.run.colonies; ++colony) {
            if (!this.run.isPresent(state.frame, colony)) continue;
            const shade = shades.find((s) => s.colony === colony);
            if (colony === state.colony) this.labelAt(colony, this.run.document.colonies[colony].name, "chosen");
            else if (shade !== undefined && shade.share >= 0.01)
                this.labelAt(colony, `${colony + 1}: shades ${(100 * shade.share).toFixed(0)} %`, "culprit");
            else if (this.run.colonies <= MAX_LABELS) this.labelAt(colony, String(colony + 1), "number");
        }
    }

    private labelAt(colony: number, text: string, kind: string) {
        const box = this.reef.boxOf(colony);
        if (box.isEmpty()) return;
        const at = box.getCenter(new three.Vector3());
        at.z = box.max.z + 0.01;
        this.labels.add(text, at, kind);
    }

    /** While something moves, a slow machine draws at coarse resolution. */
    setMoving(moving: boolean) {
        this.moving = moving;
        this.reef.setCoarse(moving && this.slow);
        this.requestDraw();
    }

    private requestDraw() {
        if (this.drawRequested) return;
        this.drawRequested = true;
        requestAnimationFrame((now) => {
            this.drawRequested = false;
            this.measurePace(now);
            this.draw();
        });
    }

    /** Measures the time between two pictures while turning. */
    private measurePace(now_ms: number) {
        const took_ms = now_ms - this.lastDrawn_ms;
        this.lastDrawn_ms = now_ms;
        if (this.moving && !this.slow && took_ms > SLOW_MS && took_ms < 1000) {
            this.slow = true;
            this.reef.setCoarse(true);
        }
    }

    private draw() {
        if (this.state === null) return;
        const { clientWidth: width, clientHeight: height } = this.box;
        if (width === 0 || height === 0) return;
        const size = this.renderer.getSize(new three.Vector2());
        if (size.x !== width || size.y !== height) {
            this.renderer.setSize(width, height);
            this.camera.aspect = width / height;
            this.camera.updateProjectionMatrix();
        }
        this.renderer.render(this.scene, this.camera);
        this.labels.place(this.camera, width, height);
        this.box.dataset.drawn = String(this.state.frame);
    }
}
