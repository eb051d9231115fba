/** What acts on the shell: its moved shapes with a slider, and the loads as arrows. */

import { fill, h } from "../dom";
import type { Picture, Shape } from "../kit";
import { loadColour, loadName } from "../scene/colours";
import type { Vec } from "../scene/pick";
import { arrows, type Arrow } from "../scene/places";
import { drawnWords, hasSize, loadsShown, loadWords, shapeName, timesOf } from "../scene/shapes";
import type { System } from "../units";

/** The longest arrow, as a share of the shell's size. */
const LONGEST = 0.14;

export class Acting {
  readonly element = h("div", { class: "tools acting", role: "toolbar", "aria-label": "Shapes and loads" });
  readonly words = h("div", { class: "help said-of-shape", "aria-live": "polite" });
  private picture: Picture | null = null;
  private system: System = "metric";
  private size = 1;
  private shape = "";
  private times: number[] = [0];
  private place = 0;
  private loads = "";

  constructor(private readonly changed: () => void) {}

  /** Take what is known of the structure; null while it is being worked out. */
  show(picture: Picture | null, size: number, system: System): void {
    if (picture === this.picture && size === this.size && system === this.system) return;
    [this.picture, this.size, this.system] = [picture, size, system];
    if (!this.now) this.shape = "";
    if (!picture?.loads.some((load) => load.action === this.loads) && this.loads !== "all") this.loads = "";
    this.choose(this.shape, this.place);
    this.build();
  }

  private get now(): Shape | null {
    return this.picture?.shapes.find((one) => one.name === this.shape) ?? null;
  }

  /** Which movements are drawn, and how many times as large as they are. */
  get moved(): { by: Vec[]; times: number } | null {
    return this.now && { by: this.now.moved, times: this.times[this.place] ?? 0 };
  }

  /** The arrows of the loads that are wanted, all to one scale. */
  arrows(hubs: Vec[], rise: number, dark: boolean): Arrow[] {
    if (!this.picture || !this.loads) return [];
    const shown = loadsShown(this.picture, this.loads);
    const most = Math.max(1e-9, ...shown.flatMap((load) => load.forces.map((force) => Math.hypot(...force))));
    const scale = (LONGEST * this.size) / most;
    return shown.flatMap((load) => arrows(hubs, load.forces, scale, loadColour(load.action, dark), [0, 0, rise * 0.3]));
  }

  /** What the arrows mean, for the legend. */
  keys(dark: boolean): [string, string][] {
    if (!this.picture || !this.loads) return [];
    return loadsShown(this.picture, this.loads).map((load) => [loadColour(load.action, dark), `arrows: ${loadName(load.action)}`]);
  }

  private choose(shape: string, place: number | null): void {
    this.shape = shape;
    const now = this.now;
    this.times = now ? timesOf(now, this.size) : [0];
    this.place = Math.min(place ?? this.times.length - 1, this.times.length - 1);
    this.say();
  }

  private say(): void {
    const now = this.now;
    fill(this.words,
      now && h("p", {}, drawnWords(now, this.times[this.place] ?? 0, this.system)),
      this.picture && this.loads ? h("p", {}, loadWords(this.picture, this.loads, this.system)) : null);
  }

  private build(): void {
    const { picture } = this;
    this.element.hidden = !picture || (!picture.shapes.length && !picture.loads.length);
    if (!picture) return fill(this.element);
    const shapes = h("select", { "aria-label": "Shape" },
      h("option", { value: "" }, "Shape as designed"), picture.shapes.map((one) => h("option", { value: one.name }, shapeName(one))));
    shapes.value = this.shape;
    shapes.addEventListener("change", () => {
      this.choose(shapes.value, null);
      this.slider.replaceWith((this.slider = this.makeSlider()));
      this.changed();
    });
    const loads = h("select", { "aria-label": "Loads" },
      h("option", { value: "" }, "No loads shown"), picture.loads.length ? h("option", { value: "all" }, "All loads that govern") : null,
      picture.loads.map((one) => h("option", { value: one.action }, `Only ${loadName(one.action)}`)));
    loads.value = this.loads;
    loads.addEventListener("change", () => {
      this.loads = loads.value;
      this.say();
      this.changed();
    });
    this.slider = this.makeSlider();
    fill(this.element, shapes, this.slider, loads);
  }

  private slider: HTMLElement = h("span", {});

  private makeSlider(): HTMLElement {
    const now = this.now;
    if (!now || this.times.length < 2) return h("span", {});
    const shown = h("span", { class: "times" });
    const slide = h("input", { type: "range", min: 0, max: this.times.length - 1, step: 1, value: this.place, "aria-label": "How far the shape is drawn" });
    const tell = () => {
      const times = this.times[this.place] ?? 0;
      const text = hasSize(now) ? `${times} ×` : `${Math.round((100 * times) / this.size)} % of the size`;
      shown.textContent = text;
      slide.setAttribute("aria-valuetext", text);
    };
    slide.addEventListener("input", () => {
      this.place = Number(slide.value);
      tell();
      this.say();
      this.changed();
    });
    tell();
    return h("label", { class: "slide" }, slide, shown);
  }
}
