/** Building the page: one function for elements, one for what has to be announced. */

type Child = Node | string | number | null | undefined | false;
type Props = Record<string, unknown>;

export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  props: Props = {},
  ...children: (Child | Child[])[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on") && typeof value === "function") {
      element.addEventListener(name.slice(2).toLowerCase(), value as EventListener);
    } else if (name === "value" && "value" in element) {
      (element as unknown as { value: unknown }).value = value;
    } else if (value === true) {
      element.setAttribute(name, "");
    } else {
      element.setAttribute(name, String(value));
    }
  }
  append(element, children);
  return element;
}

function append(parent: Node, children: (Child | Child[])[]): void {
  for (const child of children.flat()) {
    if (child === null || child === undefined || child === false) continue;
    parent.appendChild(child instanceof Node ? child : document.createTextNode(String(child)));
  }
}

export function fill(element: Element, ...children: (Child | Child[])[]): void {
  element.replaceChildren();
  append(element, children);
}

export function svg(tag: string, props: Props = {}, ...children: (Child | Child[])[]): SVGElement {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(props)) element.setAttribute(name, String(value));
  append(element, children);
  return element;
}

/** Say `text` to whoever cannot see that something changed. */
export function announce(text: string): void {
  let place = document.getElementById("said");
  if (!place) {
    place = h("p", { id: "said", class: "unseen", role: "status", "aria-live": "polite" });
    document.body.append(place);
  }
  place.textContent = text;
}

export function table(
  caption: string,
  heads: string[],
  rows: (Child | Child[])[][],
  numeric: number[] = [],
): HTMLElement {
  const kind = (column: number) => (numeric.includes(column) ? "number" : undefined);
  return h(
    "div",
    { class: "scroll", tabindex: 0, role: "region", "aria-label": caption },
    h(
      "table",
      {},
      h("caption", {}, caption),
      h("thead", {}, h("tr", {}, heads.map((head, k) => h("th", { scope: "col", class: kind(k) }, head)))),
      h("tbody", {}, rows.map((row) => h("tr", {}, row.map((cell, k) => h("td", { class: kind(k) }, cell))))),
    ),
  );
}
