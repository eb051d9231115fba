/** The form of a brief, made from its JSON Schema: units as typed, help and problems per field. */

import type { Problem } from "./api";
import { h } from "./dom";
import { readTyped, writeTyped } from "./units";

export interface Schema {
  type?: string;
  description?: string;
  enum?: (string | number)[];
  const?: unknown;
  $ref?: string;
  $defs?: Record<string, Schema>;
  properties?: Record<string, Schema>;
  items?: Schema;
  anyOf?: Schema[];
  oneOf?: Schema[];
  examples?: unknown[];
  required?: string[];
  [extra: `x-${string}`]: string;
}

export type Set = (key: string, value: unknown, dragging?: boolean) => void;

const SLIDERS = ["size.width", "size.length", "size.rise"];
const COUNTS: Record<string, [number, number]> = { "shape.division": [1, 8], "shape.bays": [0, 12] };

export function resolve(schema: Schema, root: Schema): Schema {
  if (!schema.$ref) return schema;
  const found = root.$defs?.[schema.$ref.split("/").pop() ?? ""] ?? {};
  return { ...found, ...(schema.description ? { description: schema.description } : {}) };
}

const choices = (schema: Schema): Schema[] => schema.anyOf ?? schema.oneOf ?? [schema];

/** What was typed in a text field, as the brief's value: numbers and lists where the key takes them. */
export function typedValue(text: string, schema: Schema, root: Schema): unknown {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  const kinds = choices(schema).map((one) => resolve(one, root));
  const list = kinds.find((one) => one.type === "array");
  if (list && (trimmed.includes(",") || kinds.length === 1)) {
    return trimmed.split(",").map((one) => typedValue(one, list.items ?? { type: numbersIn(list) }, root));
  }
  const numeric = kinds.some((one) => one.type === "number" || one.type === "integer");
  if (numeric && /^-?\d+(\.\d+)?$/.test(trimmed)) return Number(trimmed);
  if (kinds.some((one) => one.type === "boolean") && /^(true|false)$/.test(trimmed)) return trimmed === "true";
  return trimmed;
}

function numbersIn(list: Schema): string {
  return JSON.stringify(list).includes('"integer"') ? "integer" : "string";
}

export function shownValue(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.map(shownValue).join(", ");
  if (typeof value === "object") return JSON.stringify(value);
  return String(value);
}

const words = (key: string): string => {
  const text = key.replace(/_/g, " ");
  return text.charAt(0).toUpperCase() + text.slice(1);
};

export class Form {
  readonly element = h("form", { class: "brief-form", novalidate: true, autocomplete: "off" });
  private problems = new Map<string, HTMLElement>();
  private inputs = new Map<string, HTMLElement>();
  private open = new window.Set<string>(["project", "size", "shape"]);

  constructor(private root: Schema, private set: Set) {
    this.element.addEventListener("submit", (event) => event.preventDefault());
  }

  /** Fill the form anew, but leave the field alone in which somebody is writing. */
  show(values: Record<string, unknown>): void {
    const active = document.activeElement as HTMLElement | null;
    const focused = active && this.element.contains(active) ? active.id : "";
    if (focused && this.filled(values, focused)) return;
    this.problems.clear();
    this.inputs.clear();
    const sections = Object.entries(this.root.properties ?? {}).map(([key, part]) =>
      this.section(key, resolve(part, this.root), values[key]),
    );
    this.element.replaceChildren(...sections);
    if (focused) document.getElementById(focused)?.focus();
  }

  /** While a field has the focus only the others' values are brought up to date, when all are there. */
  private filled(values: Record<string, unknown>, focused: string): boolean {
    const rows = Array.isArray(values["openings"]) ? values["openings"].length : 0;
    if (this.element.querySelectorAll(".row.opening").length !== rows) return false;
    for (const [key, input] of this.inputs) {
      if (input.id === focused || input.id + "-slide" === focused) continue;
      if (input instanceof HTMLInputElement || input instanceof HTMLSelectElement) input.value = shownValue(at(values, key));
    }
    const field = document.getElementById(focused);
    const key = focused.endsWith("-slide") ? focused.slice(2, -6) : "";
    const text = key ? document.getElementById(`f-${key}`) : null;
    if (field && text instanceof HTMLInputElement) text.value = shownValue(at(values, key));
    return true;
  }

  /** Put each problem beside its field; return those that belong to none. */
  tell(problems: Problem[]): Problem[] {
    for (const [key, place] of this.problems) {
      const here = problems.filter((one) => one.key === key);
      place.textContent = here.map((one) => `${one.what}. ${one.mend}`).join(" ");
      place.hidden = here.length === 0;
      const input = this.inputs.get(key);
      if (here.length) input?.setAttribute("aria-invalid", "true");
      else input?.removeAttribute("aria-invalid");
      if (here.length) place.closest("details")?.setAttribute("open", "");
    }
    return problems.filter((one) => !this.problems.has(one.key));
  }

  private section(key: string, schema: Schema, value: unknown): HTMLElement {
    const rows = schema.type === "array";
    const body = rows
      ? this.rows(key, schema, Array.isArray(value) ? value : [])
      : this.fields(key, schema, (value ?? {}) as Record<string, unknown>);
    const filled = value === undefined ? "" : rows ? `${(value as unknown[]).length}` : "given";
    const details = h(
      "details",
      { open: this.open.has(key), onToggle: () => (details.open ? this.open.add(key) : this.open.delete(key)) },
      h("summary", {}, words(key), h("span", { class: "given" }, filled)),
      schema.description ? h("p", { class: "help" }, schema.description) : null,
      body,
    );
    return details;
  }

  private fields(path: string, schema: Schema, values: Record<string, unknown>): HTMLElement[] {
    return Object.entries(schema.properties ?? {}).map(([name, part]) =>
      this.field(`${path}.${name}`, name, part, values[name]),
    );
  }

  private rows(path: string, schema: Schema, values: unknown[]): HTMLElement[] {
    const item = resolve(schema.items ?? {}, this.root);
    const made = values.map((value, k) =>
      h(
        "fieldset",
        { class: path === "openings" ? "row opening" : "row" },
        h("legend", {}, `${words(path.split(".").pop() ?? path).replace(/s$/, "")} ${k + 1}`),
        this.fields(`${path}[${k}]`, item, (value ?? {}) as Record<string, unknown>),
        h("button", { type: "button", onClick: () => this.set(`${path}[${k}]`, null) }, "Take out"),
      ),
    );
    const first = path === "openings" ? { kind: "door", width: "0.9 m", height: "1.9 m", facing: "south" } : { length: "6 m" };
    const add = () => this.set(`${path}[${values.length}]`, first);
    return [...made, h("button", { type: "button", onClick: add }, `Add to ${words(path).toLowerCase()}`)];
  }

  private field(path: string, name: string, schema: Schema, value: unknown): HTMLElement {
    const kinds = choices(schema).map((one) => resolve(one, this.root));
    const nested = kinds.find((one) => one.properties);
    const tables = kinds.find((one) => one.type === "array" && resolve(one.items ?? {}, this.root).properties);
    if (tables) return this.nested(path, name, schema, this.rows(path, tables, Array.isArray(value) ? value : []));
    if (nested && (kinds.length === 1 || (typeof value === "object" && value !== null))) {
      return this.nested(path, name, schema, this.fields(path, nested, (value ?? {}) as Record<string, unknown>));
    }
    return this.plain(path, name, schema, kinds, value);
  }

  private nested(path: string, name: string, schema: Schema, body: HTMLElement[]): HTMLElement {
    const place = h("p", { class: "problem", id: `p-${path}`, hidden: true });
    this.problems.set(path, place);
    return h(
      "fieldset",
      { class: "nested" },
      h("legend", {}, words(name)),
      schema.description ? h("p", { class: "help" }, schema.description) : null,
      place,
      body,
    );
  }

  private plain(path: string, name: string, schema: Schema, kinds: Schema[], value: unknown): HTMLElement {
    const id = `f-${path}`;
    const options = kinds.find((one) => one.enum)?.enum;
    const described = `h-${path} p-${path}`;
    const props = { id, "aria-describedby": described, name: path };
    let input: HTMLInputElement | HTMLSelectElement;
    if (options && kinds.length === 1) {
      input = select(props, options.map(String), shownValue(value));
    } else if (kinds.length === 1 && kinds[0]?.type === "boolean") {
      input = select(props, ["true", "false"], shownValue(value));
    } else {
      const example = kinds.flatMap((one) => one.examples ?? [])[0];
      const usual = schema["x-default"] ?? kinds[0]?.["x-default"];
      const hint = usual ? `left out: ${usual}` : example ? `such as ${shownValue(example)}` : "";
      input = h("input", { ...props, type: "text", value: shownValue(value), placeholder: hint });
    }
    const give = () => this.set(path, typedValue(input.value, schema, this.root));
    input.addEventListener("change", give);
    this.inputs.set(path, input);
    const place = h("p", { class: "problem", id: `p-${path}`, hidden: true });
    this.problems.set(path, place);
    return h(
      "div",
      { class: "field" },
      h("label", { for: id }, words(name)),
      input,
      this.slider(path, value, input),
      h("p", { class: "help", id: `h-${path}` }, schema.description ?? kinds[0]?.description ?? ""),
      place,
    );
  }

  private slider(path: string, value: unknown, input: HTMLInputElement | HTMLSelectElement): HTMLElement | null {
    const id = `f-${path}-slide`;
    const label = `${words(path.split(".").pop() ?? "")}, slider`;
    const counts = COUNTS[path];
    if (counts) {
      const now = Array.isArray(value) ? Number(value[0]) : Number(value ?? NaN);
      if (!Number.isFinite(now)) return null;
      const slide = h("input", { id, type: "range", "aria-label": label, min: counts[0], max: counts[1], step: 1, value: now });
      const second = Array.isArray(value) ? Number(value[1] ?? 0) : 0;
      const give = (dragging: boolean) => {
        const count = Number(slide.value);
        const both = second === now && second > 0 ? [count, count] : [count, Math.min(second, count)];
        this.set(path, Array.isArray(value) ? both : count, dragging);
      };
      slide.addEventListener("input", () => give(true));
      slide.addEventListener("change", () => give(false));
      return slide;
    }
    const typed = SLIDERS.includes(path) ? readTyped(shownValue(value)) : null;
    if (!typed) return null;
    const step = typed.imperial ? 0.0254 : 0.05;
    const slide = h("input", {
      id, type: "range", "aria-label": label, min: Math.max(step, typed.metres * 0.5), max: typed.metres * 1.6,
      step, value: typed.metres,
    });
    const give = (dragging: boolean) => {
      const text = writeTyped(Number(slide.value), typed.imperial);
      slide.setAttribute("aria-valuetext", text);
      input.value = text;
      this.set(path, text, dragging);
    };
    slide.addEventListener("input", () => give(true));
    slide.addEventListener("change", () => give(false));
    return slide;
  }
}

function select(props: Record<string, unknown>, options: string[], value: string): HTMLSelectElement {
  const element = h("select", props, h("option", { value: "" }, "left out"), options.map((one) => h("option", { value: one }, one)));
  element.value = value;
  return element;
}

/** The value at a key such as openings[1].kind. */
export function at(values: unknown, key: string): unknown {
  return key
    .split(/[.[\]]+/)
    .filter(Boolean)
    .reduce<unknown>((place, part) => (place as Record<string, unknown> | undefined)?.[part], values);
}
