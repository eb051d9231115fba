/** Walk the build: one step at a time, large enough for a phone in the sun. */

import { announce, fill, h } from "../dom";
import { stepsOf, type Kit, type Step } from "../kit";
import { bandWords } from "../scene/colours";
import { showLength, showMass, showSpeed, type System } from "../units";

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
      ...this.taken(step),
      step.people ? h("p", {}, `People: ${step.people}.`) : null,
      ...this.more(step),
      h("p", { class: "help" }, "Arrow keys go from step to step; on a phone, swipe."),
    ].filter((one): one is HTMLElement => one !== null);
  }

  /** What the step takes; nothing where it only takes props away. */
  private taken(step: Step): HTMLElement[] {
    const picks = Object.entries(step.picks);
    return picks.length ? [
      h("h3", {}, "Take from the pack"),
      h("ul", { class: "picks" }, picks.map(([label, n]) => this.pick(label, n))),
      h("p", {}, `They are ${count(step.struts.length, "strut")} and ${count(step.hubs.length, "hub")}.`),
    ] : [];
  }

  private pick(label: string, count: number): HTMLElement {
    const kind = this.kit.parts.strut_types.find((one) => one.label === label);
    return h("li", {}, h("strong", {}, `${count} × ${label}`), kind ? ` ${showLength(kind.cut_length, this.system)}, ${bandWords(kind.band)}` : "");
  }

  /** Props, heights, loads to lift and the wind to stop at. */
  private more(step: Step): HTMLElement[] {
    const { system } = this;
    const under = (name: string) => {
      const prop = this.kit.sequence?.props?.find((one) => one.name === name);
      return prop ? `${name} under hub ${prop.hub}` : name;
    };
    const high = (metres: number | undefined) => metres !== undefined && metres > 0;
    const lines = [
      (step.repeats ?? 1) > 1 ? `The same is done ${step.repeats} times.` : "",
      step.props_placed?.length ? `Set ${step.props_placed.map(under).join(", ")}.` : "",
      step.props_removed?.length ? `Take away ${step.props_removed.map(under).join(", ")}.` : "",
      high(step.reach) ? `Work up to ${showLength(step.reach ?? 0, system)}${high(step.platform) ? ` from a platform of ${showLength(step.platform ?? 0, system)}` : ""}.` : "",
      high(step.lift) ? `Lift ${showMass(step.lift ?? 0, system)} each.` : "",
      step.minutes ? `About ${Math.max(1, Math.round(step.minutes))} min.` : "",
    ].filter(Boolean).map((text) => h("p", {}, text));
    if (step.mechanisms) lines.push(h("p", { class: "caution" }, "Without its props this state moves freely and can fold: leave every prop where it is until a step says to take it away."));
    if (step.check) lines.push(h("p", { class: "caution" }, `${step.check.passes ? "" : "This state was not shown to stand: ask before you go on. "}Stop work at a wind of ${showSpeed(step.check.wind, system)}.`));
    return lines;
  }
}

const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? "" : "s"}`;
