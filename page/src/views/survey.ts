/** Tape readings of the built shell: typed or from a file; suspects, corrections and what to tape next. */

import { api, type ProofLoad, Refused, type Surveyed } from "../api";
import { fill, h, table } from "../dom";
import { showFine, showForce, showLength, showNumber, type System } from "../units";

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
  const hung = h("div", { "aria-live": "polite" });
  const write = (lines: string) => {
    area.value = `${area.value.trimEnd()}\n${lines}\n`;
    keep(name, area.value);
    area.focus();
  };
  const look = () => {
    keep(name, area.value);
    return told(found, async () => answer(await api.survey(text(), area.value), system, show));
  };
  const hang = () => told(hung, async () => proofLoad(await api.proof(text()), system, show, write));
  return h("div", {},
    h("label", { for: "readings" }, "Readings"), area,
    h("p", { class: "help", id: "readings-help" }, "One a line: kind (distance, width, height, strut, sink), from hub, to hub, at (centre, bolt, outside), value with its unit, sigma or nothing. Such as distance,29,36,centre,6498 mm,"),
    h("div", { class: "inline" },
      h("div", { class: "field" }, h("label", { for: "readings-file" }, "or from a file"), file),
      h("button", { type: "button", class: "strong", onClick: () => void look() }, "What is wrong?")),
    found,
    h("section", {},
      h("h3", {}, "Proof load of the built shell"),
      h("p", { class: "help" }, "A load hung from one hub shows whether the joints are as stiff as the design supposes."),
      h("button", { type: "button", onClick: () => void hang() }, "What to hang where?"),
      hung));
}

/** Work something out in `place`, and say there why it cannot be. */
async function told(place: HTMLElement, work: () => Promise<HTMLElement>): Promise<void> {
  fill(place, h("p", {}, "Being worked out …"));
  try {
    fill(place, await work());
  } catch (error) {
    const why = error instanceof Refused ? error.problems.map((one) => [one.where, one.what, one.mend].filter(Boolean).join(": ")) : [String(error)];
    fill(place, why.map((one) => h("p", { class: "problem" }, one)));
  }
}

function proofLoad(load: ProofLoad, system: System, show: Show, write: (lines: string) => void): HTMLElement {
  const [added, first] = [showForce(load.load, system), showForce(load.first, system)];
  const sink = (metres: number) => showFine(metres, system);
  const lines = [
    `# temperature: ${load.temperature} C`,
    `# load: ${load.load} N at hub ${load.hub}`,
    `sink,${load.hub},,, mm,${showNumber(load.sigma * 1000)} mm`,
  ].join("\n");
  return h("div", {},
    h("p", {}, h("strong", {}, `${added} at hub ${load.hub}`), ` of the ${showForce(load.allowed, system)} that the design lets hang there. Nobody stands under it; no snow, no wind above a breeze. `,
      h("button", { type: "button", onClick: () => show([], load.hub) }, "Show")),
    h("ol", {},
      h("li", {}, `Hang ${first}, so that all play is closed. Read the height of hub ${load.hub} on a rule against a string or a staff, and of a base hub on either side: these are the zeros.`),
      h("li", {}, `Add ${added} in five steps. Stop and take it off where the hub sinks by more than ${sink(load.high)}: something is loose or missing.`),
      h("li", {}, `Wait ten minutes and read again. The hub should have sunk by ${sink(load.sink)} ± ${sink((load.high - load.low) / 2)} (${sink(load.low)} to ${sink(load.high)}).`),
      h("li", {}, "Take the added load off and read once more: what stays is play, no stiffness."),
      h("li", {}, "Write the sink into the readings, base hubs in lines of their own, and ask what is wrong: it says how stiff the joints are and checks the design again with them. ",
        h("button", { type: "button", onClick: () => write(lines) }, "Begin these lines"))),
    load.notes.length ? h("ul", {}, load.notes.map((one) => h("li", {}, one.text))) : null);
}

function joints(found: NonNullable<Surveyed["joints"]>, system: System): HTMLElement {
  const how = { within: "as supposed", softer: "softer than supposed", stiffer: "stiffer than any supposed" }[found.verdict];
  const use = (value: number | null) => (value === null ? "–" : showNumber(value));
  return h("section", {},
    h("h3", {}, "Joints, as the proof load says"),
    h("p", {}, h("strong", {}, `The joints are ${how}. `), found.verdict_after ? `Checked again with them: ${found.verdict_after} (as designed: ${found.verdict_before ?? "not judged"}).` : "The brief gives no loads: the design is not checked again."),
    table("Sinks", ["Line", "Hub", "Load", "Measured", "Best joints"], found.sinks.map((one) => [
      one.line, one.hub, one.load === null ? "–" : showForce(one.load, system), showFine(one.measured, system), showFine(one.fitted, system)]), [0, 1, 2, 3, 4]),
    found.checks?.length ? table("Utilisation", ["Check", "As designed", "As measured"], found.checks.map((one) => [one.code, use(one.before), use(one.after)]), [1, 2]) : null,
    found.notes.length ? h("ul", {}, found.notes.map((one) => h("li", {}, one.text))) : null);
}

function answer(told: Surveyed, system: System, show: Show): HTMLElement {
  const signed = (metres: number) => `${metres < 0 ? "−" : "+"}${showLength(Math.abs(metres), system)}`;
  return h("div", {},
    told.readings.length ? h("p", {}, `${told.readings.length} readings used; the base has spread by ${signed(told.spread)}.`) : null,
    !told.readings.length ? null : told.suspects.length
      ? h("ol", { class: "suspects" }, told.suspects.map((one) =>
          h("li", {}, h("strong", {}, `${one.hypothesis}, ${Math.round(one.probability * 100)} %. `), one.look, " ",
            h("button", { type: "button", onClick: () => show(one.struts, one.struts.length ? null : (one.hubs[0] ?? null)) }, "Show"))))
      : h("p", {}, "No suspects: a true shell may well read like this."),
    told.next_reading ? h("p", { class: "note" }, `Tape next: ${told.next_reading.kind} ${told.next_reading.hubs.join(" – ")}, should read ${showLength(told.next_reading.expected, system)}. ${told.next_reading.why}`) : null,
    told.corrections.length ? table("Pull the base", ["Hub", "along x", "along y", "up"], told.corrections.map((one) => [one.hub, signed(one.dx), signed(one.dy), signed(one.dz)]), [1, 2, 3]) : null,
    !told.readings.length ? null : table("Readings", ["Line", "What", "Measured", "Off design", "Residual"], told.readings.map((one) => [
      one.line, `${one.kind} ${one.hubs.join(" – ")}`, showLength(one.measured, system), signed(one.measured - one.design), signed(one.residual)]), [0, 2, 3, 4]),
    told.joints ? joints(told.joints, system) : null,
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
