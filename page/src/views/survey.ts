/** Tape readings of the built shell: typed or from a file; suspects, corrections and what to tape next. */

import { api, Refused, type Surveyed } from "../api";
import { fill, h, table } from "../dom";
import { showLength, type System } from "../units";

const HEAD = "kind,from,to,at,value,sigma\n";
const KEPT = "strutwright readings ";

type Show = (struts: number[], hub: number | null) => void;

export function survey(name: string, text: () => string, system: System, show: Show): HTMLElement {
  const area = h("textarea", { id: "readings", rows: 12, spellcheck: "false", "aria-describedby": "readings-help" });
  area.value = kept(name) ?? HEAD;
  const file = h("input", { id: "readings-file", type: "file", accept: ".csv,text/csv" });
  file.addEventListener("change", () => {
    void file.files?.[0]?.text().then((read) => (area.value = read));
  });
  const found = h("div", { "aria-live": "polite" });
  const look = async () => {
    keep(name, area.value);
    fill(found, h("p", {}, "Being worked out …"));
    try {
      fill(found, answer(await api.survey(text(), area.value), system, show));
    } catch (error) {
      const told = error instanceof Refused ? error.problems.map((one) => [one.where, one.what, one.mend].filter(Boolean).join(": ")) : [String(error)];
      fill(found, told.map((one) => h("p", { class: "problem" }, one)));
    }
  };
  return h("div", {},
    h("label", { for: "readings" }, "Readings"), area,
    h("p", { class: "help", id: "readings-help" }, "One a line: kind (distance, width, height, strut), from hub, to hub, at (centre, bolt, outside), value with its unit, sigma or nothing. Such as distance,29,36,centre,6498 mm,"),
    h("div", { class: "inline" },
      h("div", { class: "field" }, h("label", { for: "readings-file" }, "or from a file"), file),
      h("button", { type: "button", class: "strong", onClick: () => void look() }, "What is wrong?")),
    found);
}

function answer(told: Surveyed, system: System, show: Show): HTMLElement {
  const signed = (metres: number) => `${metres < 0 ? "−" : "+"}${showLength(Math.abs(metres), system)}`;
  return h("div", {},
    h("p", {}, `${told.readings.length} readings used; the base has spread by ${signed(told.spread)}.`),
    told.suspects.length
      ? h("ol", { class: "suspects" }, told.suspects.map((one) =>
          h("li", {}, h("strong", {}, `${one.hypothesis}, ${Math.round(one.probability * 100)} %. `), one.look, " ",
            h("button", { type: "button", onClick: () => show(one.struts, one.struts.length ? null : (one.hubs[0] ?? null)) }, "Show"))))
      : h("p", {}, "No suspects: a true shell may well read like this."),
    told.next_reading ? h("p", { class: "note" }, `Tape next: ${told.next_reading.kind} ${told.next_reading.hubs.join(" – ")}, should read ${showLength(told.next_reading.expected, system)}. ${told.next_reading.why}`) : null,
    told.corrections.length ? table("Pull the base", ["Hub", "along x", "along y", "up"], told.corrections.map((one) => [one.hub, signed(one.dx), signed(one.dy), signed(one.dz)]), [1, 2, 3]) : null,
    table("Readings", ["Line", "What", "Measured", "Off design", "Residual"], told.readings.map((one) => [
      one.line, `${one.kind} ${one.hubs.join(" – ")}`, showLength(one.measured, system), signed(one.measured - one.design), signed(one.residual)]), [0, 2, 3, 4]),
    told.cannot_know.length ? h("section", {}, h("h3", {}, "What these readings cannot know"), h("ul", {}, told.cannot_know.map((one) => h("li", {}, one)))) : null,
    told.notes.length ? h("ul", {}, told.notes.map((one) => h("li", {}, one.text))) : null);
}

function keep(name: string, text: string): void {
  try {
    localStorage.setItem(KEPT + name, text);
  } catch {
    // it stays as long as the window does
  }
}

function kept(name: string): string | null {
  try {
    return localStorage.getItem(KEPT + name);
  } catch {
    return null;
  }
}
