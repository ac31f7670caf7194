// Text labels in the 3-D tank.

import * as three from "three";

import { element } from "./dom";

export class Labels {
    private readonly labels: { box: HTMLElement; at: three.Vector3 }[] = [];

    constructor(private readonly layer: HTMLElement) {}

    clear() {
        this.labels.length = 0;
        this.layer.replaceChildren();
    }

    add(text: string, at: three.Vector3, kind = "") {
        const box = element("span", { class: `label ${kind}` }, text);
        this.layer.append(box);
        this.labels.push({ box, at });
    }

    /** Moves every label to the projection of its point. */
    place(camera: three.Camera, width: number, height: number) {
        for (const { box, at } of this.labels) {
            const projected = at.clone().project(camera);
            const x = (0.5 + 0.5 * projected.x) * width;
            const y = (0.5 - 0.5 * projected.y) * height;
            box.style.transform = `translate(-50%, -100%) translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
            box.hidden = projected.z > 1;
        }
    }
}
