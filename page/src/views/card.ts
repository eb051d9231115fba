/** The card of a strut or a hub that was picked. */

import { h, svg } from "../dom";
import { placedAt, stepsOf, typeOfHub, typeOfStrut, usedByType, type Drawn, type HubType, type Kit, type Picture } from "../kit";
import { bandWords } from "../scene/colours";
import type { Picked } from "../scene/pick";
import { showLength, type System } from "../units";

type Go = (picked: Picked) => void;

interface Shown {
  picked: Picked;
  drawn: Drawn;
  kit: Kit | null;
  picture: Picture | null;
  system: System;
}

export function card({ picked, drawn, kit, picture, system }: Shown, go: Go): HTMLElement {
  const same = kit && kit.shell.struts.length === drawn.shell.struts.length ? kit : null;
  if (picked.kind === "hub") return hubCard(picked.index, drawn, same, system, go);
  return strutCard(picked.index, drawn, same, picture?.used[picked.index] ?? null, go);
}

const use = (used: number | null | undefined): string => (typeof used === "number" ? `${used.toFixed(2)}${used > 1 ? " – fails" : ""}` : "");

const facts = (rows: [string, unknown][]): HTMLElement =>
  h("dl", {}, rows.filter(([, value]) => value !== null && value !== "").map(([name, value]) => [h("dt", {}, name), h("dd", {}, value as string | Node)]).flat());

function strutCard(index: number, drawn: Drawn, kit: Kit | null, own: number | null, go: Go): HTMLElement {
  const { shell, parts } = drawn;
  const type = typeOfStrut(parts, shell.struts.length)[index] ?? -1;
  const kind = parts.strut_types[type];
  const [i, j] = shell.struts[index] ?? [0, 0];
  const used = kit && usedByType(kit)[type];
  const hub = (n: number) => h("button", { type: "button", onClick: () => go({ kind: "hub", index: n }) }, `hub ${n}`);
  return h("div", {},
    h("h3", {}, `Strut ${index}, type ${kind?.label ?? "?"}`),
    facts([
      ["Marked", bandWords(kind?.band ?? "")],
      ["Cut length", kind ? showLength(kind.cut_length, "both") : ""],
      ["Node length", kind ? showLength(kind.node_length, "both") : ""],
      ["Role", shell.role[index] ?? ""],
      ["Of this type", kind ? `${kind.quantity}` : ""],
      ["Joins", h("span", {}, hub(i), " ", hub(j))],
      ["Its own use", use(own)],
      ["Highest use of its type", use(used)],
      ["Placed in step", kit ? stepName(kit, placedAt(kit).struts[index] ?? -1) : ""],
    ]));
}

function hubCard(index: number, drawn: Drawn, kit: Kit | null, system: System, go: Go): HTMLElement {
  const { shell, parts } = drawn;
  const kind = parts.hub_types[typeOfHub(parts, shell.hubs.length)[index] ?? -1];
  const of = typeOfStrut(parts, shell.struts.length);
  const at = shell.hubs[index] ?? [0, 0, 0];
  const hung = kit?.structure?.hung_capacity?.with_dead_load?.[index];
  const struts = shell.struts.map((ends, s) => ({ ends, s })).filter(({ ends }) => ends.includes(index));
  return h("div", {},
    h("h3", {}, `Hub ${index}, type ${kind?.label ?? "?"}`),
    kind ? sockets(kind) : null,
    facts([
      ["Valence", `${kind?.valence ?? struts.length}`],
      ["Of this type", kind ? `${kind.quantity}` : ""],
      ["Height", showLength(at[2], system)],
      ["Struts", h("span", {}, struts.map(({ ends, s }) =>
        h("button", { type: "button", onClick: () => go({ kind: "strut", index: s }) }, `${parts.strut_types[of[s] ?? -1]?.label ?? "?"} to hub ${ends[0] === index ? ends[1] : ends[0]}`)))],
      ["Can carry, hung", typeof hung === "number" ? `${Math.round(hung)} N (${Math.round(hung / 4.4482216)} lbf)` : ""],
      ["Placed in step", kit ? stepName(kit, placedAt(kit).hubs[index] ?? -1) : ""],
    ]));
}

function stepName(kit: Kit, at: number): string {
  const found = stepsOf(kit)[at];
  return found ? `${found.step.number} (${found.stage})` : "";
}

/** The hub seen from outside: each spoke with the label of its strut and its azimuth. */
function sockets(kind: HubType): SVGElement {
  const [middle, reach] = [80, 44];
  const words = kind.sockets.map((label, k) => `${label} at ${Math.round(((kind.spokes[k]?.azimuth ?? 0) * 180) / Math.PI)}°`).join(", ");
  return svg("svg", { viewBox: "0 0 160 160", class: "sockets", role: "img", "aria-label": `Sockets seen from outside: ${words}` },
    kind.spokes.map(({ azimuth }, k) => {
      const [x, y] = [Math.cos(azimuth), -Math.sin(azimuth)];
      return [
        svg("line", { x1: middle, y1: middle, x2: middle + reach * x, y2: middle + reach * y }),
        svg("text", { x: middle + (reach + 16) * x, y: middle + (reach + 16) * y + 4, "text-anchor": "middle" }, kind.sockets[k] ?? ""),
      ];
    }).flat(),
    svg("circle", { cx: middle, cy: middle, r: 9 }));
}
