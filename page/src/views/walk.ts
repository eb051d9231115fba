/** Walk the build: one step at a time, large enough for a phone in the sun. */

import { announce, fill, h } from "../dom";
import { stepsOf, type Kit, type Step } from "../kit";
import { bandWords } from "../scene/colours";
import { showLength, type System } from "../units";

const KNOWN = new Set(["number", "picks", "hubs", "struts", "people"]);

export class Walk {
  readonly element = h("div", { class: "walk" });
  private at = 0;
  private readonly steps: { stage: string; step: Step }[];

  constructor(
    private readonly kit: Kit,
    private readonly system: System,
    private readonly moved: (at: number) => void,
    private readonly gave: (number: number) => void,
  ) {
    this.steps = stepsOf(kit);
    this.listenTouch();
  }

  /** Go to the step numbered `number` as it is printed in the book. */
  go(number: number): void {
    const found = this.steps.findIndex(({ step }) => step.number === number);
    this.to(found < 0 ? 0 : found);
  }

  private to(at: number): void {
    this.at = Math.min(Math.max(at, 0), this.steps.length - 1);
    const now = this.steps[this.at];
    if (!now) return fill(this.element, h("p", {}, "There are no steps yet."));
    fill(this.element, this.page(now.stage, now.step));
    this.moved(this.at);
    this.gave(now.step.number);
    announce(`Step ${now.step.number} of ${this.steps.length}, ${now.stage}`);
  }

  key(event: KeyboardEvent): void {
    const target = event.target as HTMLElement;
    if (["INPUT", "SELECT", "TEXTAREA"].includes(target.tagName)) return;
    if (event.key === "ArrowRight" || event.key === "PageDown") this.to(this.at + 1);
    else if (event.key === "ArrowLeft" || event.key === "PageUp") this.to(this.at - 1);
    else if (event.key === "Home") this.to(0);
    else if (event.key === "End") this.to(this.steps.length - 1);
    else return;
    event.preventDefault();
  }

  private listenTouch(): void {
    let down: [number, number] | null = null;
    this.element.addEventListener("touchstart", (event) => {
      const touch = event.touches[0];
      down = touch && event.touches.length === 1 ? [touch.clientX, touch.clientY] : null;
    }, { passive: true });
    this.element.addEventListener("touchend", (event) => {
      const touch = event.changedTouches[0];
      if (!down || !touch) return;
      const [across, along] = [touch.clientX - down[0], touch.clientY - down[1]];
      if (Math.abs(across) > 60 && Math.abs(across) > 2 * Math.abs(along)) this.to(this.at + (across < 0 ? 1 : -1));
      down = null;
    }, { passive: true });
  }

  private page(stage: string, step: Step): HTMLElement[] {
    const last = this.steps.length - 1;
    const slide = h("input", { type: "range", min: 0, max: last, value: this.at, "aria-label": "Step", "aria-valuetext": `step ${step.number}` });
    slide.addEventListener("change", () => this.to(Number(slide.value)));
    return [
      h("p", { class: "stage-name" }, stage),
      h("h2", {}, `Step ${step.number} of ${this.steps.length}`),
      h("div", { class: "steppers" },
        h("button", { type: "button", class: "big", disabled: this.at === 0, onClick: () => this.to(this.at - 1) }, "Back"),
        h("button", { type: "button", class: "big strong", disabled: this.at === last, onClick: () => this.to(this.at + 1) }, "Next")),
      slide,
      h("h3", {}, "Take from the pack"),
      h("ul", { class: "picks" }, Object.entries(step.picks).map(([label, count]) => this.pick(label, count))),
      h("p", {}, `Then stand: ${count(step.struts.length, "strut")}, ${count(step.hubs.length, "hub")}.`),
      step.people ? h("p", {}, `People: ${step.people}.`) : null,
      ...this.more(step),
      h("p", { class: "help" }, "Arrow keys go from step to step; on a phone, swipe."),
    ].filter((one): one is HTMLElement => one !== null);
  }

  private pick(label: string, count: number): HTMLElement {
    const kind = this.kit.parts.strut_types.find((one) => one.label === label);
    return h("li", {}, h("strong", {}, `${count} × ${label}`), kind ? ` ${showLength(kind.cut_length, this.system)}, ${bandWords(kind.band)}` : "");
  }

  /** Props, reach, checks and cautions as the kit gives them. */
  private more(step: Step): HTMLElement[] {
    return Object.entries(step)
      .filter(([key, value]) => !KNOWN.has(key) && value !== null && value !== "" && !(Array.isArray(value) && !value.length))
      .map(([key, value]) => h("p", { class: key === "cautions" || key === "check" ? "caution" : undefined }, `${key.charAt(0).toUpperCase()}${key.slice(1).replace(/_/g, " ")}: ${said(value, key)}`));
  }
}

const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? "" : "s"}`;

function said(value: unknown, key = ""): string {
  if (typeof value === "number") return key === "reach" ? `${value.toFixed(2)} m` : String(Number(value.toPrecision(4)));
  if (Array.isArray(value)) return value.map((one) => said(one)).join("; ");
  if (typeof value === "object" && value !== null) return Object.entries(value).map(([name, part]) => `${name} ${said(part)}`).join(", ");
  return String(value);
}
