// Builds the page from elements and text. Everything that comes from the run becomes a text node,
// never markup.

export type Child = Node | string;

/** An element with attributes and children. */
export function element<K extends keyof HTMLElementTagNameMap>(
    tag: K,
    attributes: Record<string, string> = {},
    ...children: Child[]
): HTMLElementTagNameMap[K] {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...children);
    return made;
}

const SVG = "http://www.w3.org/2000/svg";

export function drawing(tag: string, attributes: Record<string, string | number> = {}, ...children: Child[]): SVGElement {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
    made.append(...children);
    return made;
}

/** The element of the shell with an id. */
export function byId<T extends HTMLElement = HTMLElement>(id: string): T {
    const found = document.getElementById(id);
    if (found === null) throw new Error(`the page has no element '${id}'`);
    return found as T;
}

/** A table with a caption, a row of headings, and rows whose first cell is a heading. */
export function table(caption: string, headings: string[], rows: Child[][]): HTMLTableElement {
    const head = element("tr", {}, ...headings.map((text) => element("th", { scope: "col" }, text)));
    const body = rows.map(([first, ...others]) =>
        element("tr", {}, element("th", { scope: "row" }, first), ...others.map((cell) => element("td", {}, cell))),
    );
    return element(
        "table",
        {},
        element("caption", {}, caption),
        element("thead", {}, head),
        element("tbody", {}, ...body),
    );
}
