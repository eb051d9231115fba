/** The stage with its tools: presets, colouring, labels, measure, section, the card of what is picked. */

import { announce, fill, h } from "./dom";
import { placedAt, stepsOf, typeOfHub, typeOfStrut, usedByType, type Drawn, type Kit, type Picture } from "./kit";
import { courseColour, typeColour, usedColour } from "./scene/colours";
import type { Picked, Vec } from "./scene/pick";
import { Stage, type Look, type Preset } from "./scene/scene";
import { onTheme, tokens } from "./theme";
import { showLength, type System } from "./units";
import { Acting } from "./views/acting";
import { card } from "./views/card";
import { found3d } from "./views/find";

type Colouring = "type" | "used" | "course" | "step";
const MOST_LABELS = 150;

export class View3d {
  readonly element: HTMLElement;
  private stage: Stage | null = null;
  private canvas = h("canvas", { class: "stage", tabindex: 0, role: "img", "aria-label": "The shell. Arrow keys turn it, plus and minus go nearer and farther." });
  private labels = h("div", { class: "labels", "aria-hidden": "true" });
  private cardPlace = h("div", { class: "card-place", "aria-live": "polite" });
  private legend = h("div", { class: "legend" });
  private drawn: Drawn | null = null;
  private kit: Kit | null = null;
  private colouring: Colouring = "type";
  private labelled = false;
  private covered = false;
  private opened = true;
  private picture: Picture | null = null;
  private line: [Vec, Vec] | null = null;
  private acting = new Acting(() => this.refresh());
  private picked: Picked | null = null;
  private measured: number | null = null;
  private measuring = false;
  private upto: number | null = null;
  private marked: Set<number> | null = null;
  system: System = "metric";

  constructor() {
    this.element = h("section", { class: "view", "aria-label": "Shell" }, h("details", { class: "view-tools", open: !window.matchMedia?.("(max-width: 56rem)").matches }, h("summary", {}, "View"), this.tools(), this.acting.element), h("div", { class: "stage-box" }, this.canvas, this.labels), this.legend, this.acting.words, this.cardPlace);
    this.canvas.addEventListener("keydown", (event) => this.key(event));
    this.listenPick();
    onTheme(() => {
      this.stage?.setTokens(tokens());
      this.refresh();
    });
  }

  private tools(): HTMLElement {
    const preset = (which: Preset, text: string) => h("button", { type: "button", onClick: () => this.stage?.preset(which) }, text);
    const colour = h("select", { "aria-label": "Colour by" },
      ([["type", "Colour by type"], ["used", "by utilisation"], ["course", "by course"], ["step", "by step"]] as const).map(([value, text]) => h("option", { value }, text)));
    colour.addEventListener("change", () => {
      this.colouring = colour.value as Colouring;
      this.refresh();
    });
    const toggle = (text: string, set: (on: boolean) => void, first = false) => {
      const button = h("button", { type: "button", "aria-pressed": String(first), onClick: () => {
        const on = button.getAttribute("aria-pressed") !== "true";
        button.setAttribute("aria-pressed", String(on));
        set(on);
      } }, text);
      return button;
    };
    return h("div", { class: "tools", role: "toolbar", "aria-label": "View" },
      preset("iso", "Whole"), preset("plan", "Plan"), preset("front", "Front"), preset("side", "Side"), colour,
      toggle("Openings", (on) => { this.opened = on; this.refresh(); }, true),
      toggle("Labels", (on) => { this.labelled = on; this.place(); }),
      toggle("Cover", (on) => { this.covered = on; this.refresh(); }),
      toggle("Section", (on) => this.stage?.section(on)),
      toggle("Measure", (on) => {
        this.measuring = on;
        [this.measured, this.line] = [null, null];
        this.refresh();
        announce(on ? "Pick two hubs to measure between them." : "");
        this.showCard(on ? h("p", {}, "Pick two hubs.") : null);
      }),
      this.finder());
  }

  /** Picking without a pointer: a hub, a strut, or all struts of a type. */
  private finder(): HTMLElement {
    const field = h("input", { type: "text", size: 9, placeholder: "hub 12, strut 40, C", "aria-label": "Find a hub, a strut or a type" });
    const find = (event: Event) => {
      event.preventDefault();
      const found = this.drawn && found3d(field.value, this.drawn);
      this.mark(found && found.kind === "type" ? found.struts : null);
      if (!found) this.showCard(h("p", {}, `There is no ${field.value.trim() || "such part"} here.`));
      else if (found.kind === "type") announce(`${found.struts.length} struts are marked.`);
      else this.pickedAt({ kind: found.kind, index: found.index });
    };
    return h("form", { class: "find", onSubmit: find }, field, h("button", { type: "submit" }, "Find"));
  }

  /** Draw a shell; `kit` adds what is known of its checks and steps, `picture` of its loads and shapes. */
  show(drawn: Drawn, kit: Kit | null, picture: Picture | null, system: System): void {
    const changed = drawn.shell.struts.length !== this.drawn?.shell.struts.length;
    [this.drawn, this.kit, this.system] = [drawn, kit, system];
    this.picture = picture?.used.length === drawn.shell.struts.length ? picture : null;
    this.acting.show(this.picture, Math.max(drawn.shell.width, drawn.shell.length), system);
    if (changed) [this.picked, this.line, this.measured] = [null, null, null];
    if (!this.begin()) return;
    this.stage?.show(drawn, this.look());
    this.after();
  }

  private begin(): boolean {
    if (this.stage) return true;
    try {
      this.stage = new Stage(this.canvas, tokens());
    } catch {
      fill(this.labels, h("p", { class: "note" }, "This browser draws no 3D (WebGL is off). All tables work without it."));
      return false;
    }
    this.stage.onRender = () => this.place();
    new ResizeObserver(() => this.stage?.resize()).observe(this.canvas);
    this.stage.resize();
    (window as unknown as Record<string, unknown>)["strutwrightStage"] = this.stage; // read by tests
    return true;
  }

  /** Show the shell as it stands after step `at` (counted from 0); null shows all. */
  upTo(at: number | null): void {
    this.upto = at;
    this.refresh();
  }

  /** Mark these struts with the accent; null marks none. */
  mark(struts: number[] | null): void {
    this.marked = struts && new Set(struts);
    this.refresh();
  }

  private refresh(): void {
    if (!this.drawn || !this.stage) return;
    this.stage.setLook(this.look());
    this.after();
  }

  private after(): void {
    this.showLegend();
    const { shell } = this.drawn!;
    this.canvas.setAttribute("aria-label", `The shell: ${shell.struts.length} struts, ${shell.hubs.length} hubs. Arrow keys turn it, plus and minus go nearer and farther; the tables beside hold all of it as text.`);
    if (this.picked) this.showPicked();
  }

  private look(): Look {
    const { shell, parts } = this.drawn!;
    const look = tokens();
    const strutType = typeOfStrut(parts, shell.struts.length);
    const placed = this.kit && this.kit.shell.struts.length === shell.struts.length ? placedAt(this.kit) : null;
    const used = this.kit ? usedByType(this.kit) : [];
    const most = Math.max(...shell.course, 1);
    const steps = this.kit ? stepsOf(this.kit).length : 1;
    const grey = look.dark ? "#77828a" : "#8b959b";
    const base = (s: number): string => {
      const [i, j] = shell.struts[s] ?? [0, 0];
      if (this.colouring === "used") return usedColour(this.picture ? (this.picture.used[s] ?? null) : (used[strutType[s] ?? -1] ?? null), look);
      if (this.colouring === "course") return courseColour(Math.max(shell.course[i] ?? 0, shell.course[j] ?? 0), most, look.dark);
      if (this.colouring === "step") return courseColour(placed?.struts[s] ?? 0, Math.max(steps - 1, 1), look.dark);
      return typeColour(strutType[s] ?? 0, look.dark);
    };
    const now = this.upto;
    return {
      cover: this.covered,
      openings: this.opened && now === null,
      moved: now === null ? this.acting.moved : null,
      arrows: now === null ? this.acting.arrows(this.places(), shell.rise, look.dark) : [],
      lines: this.line ? [this.line] : [],
      bands: (s) => (this.colouring === "type" ? (parts.strut_types[strutType[s] ?? -1]?.band ?? "") : ""),
      colour: (s) => {
        if (this.picked?.kind === "strut" && this.picked.index === s) return look.accent;
        if (this.marked) return this.marked.has(s) ? look.accent : grey;
        if (now !== null && placed) return placed.struts[s] === now ? look.accent : grey;
        return base(s);
      },
      hubColour: (n) => {
        if (this.picked?.kind === "hub" && this.picked.index === n) return look.accent;
        if (now !== null && placed) return placed.hubs[n] === now ? look.accent : grey;
        return look.dark ? "#c9d0d3" : "#55606a";
      },
      shown: (kind, index) => {
        if (now === null || !placed) return true;
        const at = (kind === "strut" ? placed.struts : placed.hubs)[index] ?? -1;
        return at !== -1 && at <= now;
      },
    };
  }

  /** Where hubs are drawn. */
  private places(): Vec[] {
    const { hubs } = this.drawn!.shell;
    const moved = this.acting.moved;
    return moved ? hubs.map((hub, n) => hub.map((x, k) => x + moved.times * (moved.by[n]?.[k] ?? 0)) as Vec) : hubs;
  }

  private listenPick(): void {
    let down: [number, number] | null = null;
    this.canvas.addEventListener("pointerdown", (event) => (down = [event.clientX, event.clientY]));
    this.canvas.addEventListener("pointerup", (event) => {
      if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 6) return;
      this.pickedAt(this.stage?.pickAt(event.clientX, event.clientY) ?? null);
    });
  }

  private key(event: KeyboardEvent): void {
    const turns: Record<string, [number, number, number]> = {
      ArrowLeft: [-0.12, 0, 1], ArrowRight: [0.12, 0, 1], ArrowUp: [0, -0.1, 1], ArrowDown: [0, 0.1, 1],
      "+": [0, 0, 0.88], "=": [0, 0, 0.88], "-": [0, 0, 1.14],
    };
    const turn = turns[event.key];
    if (turn) {
      this.stage?.turn(...turn);
      event.preventDefault();
      event.stopPropagation();
    } else if (event.key === "Escape") this.pickedAt(null);
  }

  /** Pick a hub or strut, from the canvas or from a list. */
  pickedAt(picked: Picked | null): void {
    if (this.measuring && picked) return this.measure(picked);
    this.picked = picked;
    this.refresh();
    if (!picked) this.showCard(null);
  }

  private measure(picked: Picked): void {
    if (picked.kind === "strut") return this.showCard(h("p", {}, "That is a strut: pick a hub, nearer to a joint."));
    if (this.measured === null || this.measured === picked.index) {
      this.measured = picked.index;
      this.showCard(h("p", {}, `From hub ${picked.index}: pick the other.`));
    } else this.showMeasure(this.measured, picked.index);
  }

  private showMeasure(a: number, b: number): void {
    this.measured = null;
    const from = this.drawn?.shell.hubs[a];
    const to = this.drawn?.shell.hubs[b];
    if (!from || !to) return;
    this.line = [this.places()[a] ?? from, this.places()[b] ?? to];
    this.refresh();
    const apart = Math.hypot(from[0] - to[0], from[1] - to[1], from[2] - to[2]);
    const flat = Math.hypot(from[0] - to[0], from[1] - to[1]);
    this.showCard(h("p", {}, `Hub ${a} to hub ${b}: ${showLength(apart, "both")} centre to centre; ${showLength(flat, "both")} in plan, ${showLength(Math.abs(from[2] - to[2]), "both")} in height${this.acting.moved ? "; as designed, not as moved" : ""}.`));
  }

  private showPicked(): void {
    if (!this.picked || !this.drawn) return;
    this.showCard(card({ picked: this.picked, drawn: this.drawn, kit: this.kit, picture: this.picture, system: this.system }, (other) => this.pickedAt(other)));
  }

  private showCard(content: HTMLElement | null): void {
    const close = content && h("button", { type: "button", class: "close", "aria-label": "Close the card", onClick: () => this.pickedAt(null) }, "Close");
    fill(this.cardPlace, content && h("div", { class: "card" }, close, content));
    if (content && document.body.dataset["tab"] !== "walk") this.cardPlace.scrollIntoView?.({ block: "nearest" });
  }

  private showLegend(): void {
    if (!this.drawn) return;
    const look = tokens();
    const chip = (colour: string, text: string) => {
      const box = h("span", { class: "chip", "aria-hidden": "true" });
      box.style.background = colour;
      return h("span", { class: "key" }, box, text);
    };
    const kinds = this.drawn.parts.strut_types;
    if (this.colouring === "type") fill(this.legend, kinds.slice(0, 24).map((kind, k) => chip(typeColour(k, look.dark), `${kind.label} ${kind.quantity}×`)));
    else if (this.colouring === "used") fill(this.legend, [0.1, 0.35, 0.6, 0.85, 1].map((u) => chip(usedColour(u, look), u.toFixed(2))), chip(usedColour(1.1, look), "over 1: fails"), chip(usedColour(null, look), "not checked"), this.kit ? null : " no checks yet");
    else fill(this.legend, chip(courseColour(0, 1, look.dark), "first"), chip(courseColour(0.5, 1, look.dark), ""), chip(courseColour(1, 1, look.dark), "last"));
    for (const [colour, text] of this.acting.keys(look.dark)) this.legend.append(chip(colour, text));
  }

  private place(): void {
    if (!this.stage || !this.drawn) return;
    if (!this.labelled) return void (this.labels.childElementCount && this.labels.replaceChildren());
    const { shell, parts } = this.drawn;
    const look = this.look();
    const of = typeOfStrut(parts, shell.struts.length);
    const hubOf = typeOfHub(parts, shell.hubs.length);
    const camera = this.stage.camera.position;
    const near = (at: Vec) => Math.hypot(camera.x - at[0], camera.y - at[1], camera.z - at[2]);
    const all: { at: Vec; text: string; hub: boolean }[] = [];
    const places = this.places();
    shell.struts.forEach(([i, j], s) => {
      if (!look.shown("strut", s)) return;
      const a: Vec = places[i] ?? [0, 0, 0];
      const b: Vec = places[j] ?? [0, 0, 0];
      all.push({ at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2], text: parts.strut_types[of[s] ?? -1]?.label ?? "", hub: false });
    });
    places.forEach((at, n) => look.shown("hub", n) && all.push({ at, text: `${n} ${parts.hub_types[hubOf[n] ?? -1]?.label ?? ""}`, hub: true }));
    all.sort((a, b) => near(a.at) - near(b.at));
    const taken: { x: number; y: number }[] = [];
    const made: HTMLElement[] = [];
    for (const one of all) {
      if (made.length >= MOST_LABELS) break;
      const place = this.stage.project(one.at);
      if (!place || taken.some((other) => Math.abs(other.x - place.x) < 26 && Math.abs(other.y - place.y) < 15)) continue;
      taken.push(place);
      const label = h("span", { class: one.hub ? "label hub" : "label" }, one.text);
      label.style.left = `${place.x}px`;
      label.style.top = `${place.y}px`;
      made.push(label);
    }
    this.labels.replaceChildren(...made);
  }
}
