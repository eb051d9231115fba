/** Two briefs side by side: size, parts, steps, mass, price, verdict. */

import { api, follow } from "../api";
import { fill, h, table } from "../dom";
import { stepsOf, type Judged } from "../kit";
import { showArea, showLength, showMass, showSize } from "../units";
import { priceWords } from "./supply";

export async function compare(main: HTMLElement, a: string, b: string): Promise<void> {
  document.title = `${a} and ${b} – strutwright`;
  const place = h("div", {}, h("p", { role: "status" }, "Both are being worked out …"));
  fill(main, h("h1", {}, "Two briefs compared"), place);
  try {
    const first = await judged(a);
    const second = await judged(b);
    fill(place, table(`${a} and ${b}`, ["", a, b, "Difference"], rows(first, second), [1, 2, 3]));
  } catch (error) {
    fill(place, h("p", { class: "problem", role: "alert" }, (error as Error).message));
  }
}

async function judged(name: string): Promise<Judged> {
  const job = await api.begin("check", name);
  const over = await follow(job.id, () => {});
  if (over.state !== "done") throw new Error(`${name}: ${over.problems.map((one) => one.what).join("; ") || over.state}`);
  return api.result(over.id);
}

const name = { "": "–", passes: "Passes", fails: "FAILS", "not checked": "NOT CHECKED" };

/** By how much the price changes; nothing where one of them leaves something out. */
function priceApart(a: Judged, b: Judged): string {
  const [x, y] = [a.kit.price, b.kit.price];
  if (!x?.is_complete || !y?.is_complete || x.total === null || y.total === null || x.currency !== y.currency) return "";
  const apart = Math.round(y.total - x.total);
  return apart === 0 ? "same" : `${apart > 0 ? "+" : "−"}${Math.abs(apart)}`;
}

export function rows(a: Judged, b: Judged): string[][] {
  const system = a.kit.brief?.project?.show === "imperial" ? "imperial" : "metric";
  const both = (label: string, of: (one: Judged) => number | null | undefined, show: (value: number) => string): string[] => {
    const [x, y] = [of(a), of(b)];
    const shown = (value: number | null | undefined) => (typeof value === "number" ? show(value) : "–");
    const apart = typeof x === "number" && typeof y === "number" ? y - x : null;
    return [label, shown(x), shown(y), apart === null ? "" : apart === 0 ? "same" : `${apart > 0 ? "+" : "−"}${show(Math.abs(apart))}`];
  };
  const whole = (value: number) => String(Math.round(value));
  return [
    ["Verdict", name[a.verdict], name[b.verdict], ""],
    both("Width", (one) => one.kit.shell.width, (value) => showSize(value, system)),
    both("Length", (one) => one.kit.shell.length, (value) => showSize(value, system)),
    both("Height", (one) => one.kit.shell.rise, (value) => showSize(value, system)),
    both("Floor", (one) => one.kit.shell.floor_area, (value) => showArea(value, system)),
    both("Struts", (one) => one.kit.shell.struts.length, whole),
    both("Strut types", (one) => one.kit.parts.strut_types.length, whole),
    both("Longest cut", (one) => Math.max(...one.kit.parts.strut_types.map((kind) => kind.cut_length)), (value) => showLength(value, system)),
    both("Hubs", (one) => one.kit.shell.hubs.length, whole),
    both("Hub types", (one) => one.kit.parts.hub_types.length, whole),
    both("Bars bought", (one) => one.kit.cutting?.bars.length, whole),
    both("Steps", (one) => stepsOf(one.kit).length || null, whole),
    both("Mass", (one) => one.kit.parts.mass, (value) => showMass(value, system)),
    ["Price", priceWords(a.kit.price) ?? "–", priceWords(b.kit.price) ?? "–", priceApart(a, b)],
  ];
}
