/** Parts, checks, cutting, ground: what the kit says, as tables. */

import { api } from "../api";
import { fill, h, table } from "../dom";
import { belongs, governingFirst, type Check, type Kit, type Mend, type Parts } from "../kit";
import { bandWords } from "../scene/colours";
import { anchors } from "./supply";
import { readTyped, showLength, showMass, showNumber, type System } from "../units";

export function parts(made: Parts, kit: Kit | null, system: System, mark: (struts: number[] | null) => void): HTMLElement {
  return h("div", {},
    table("Strut types", ["Type", "Marks", "Cut length", "Node length", "Pieces", "Quantity", "Show"],
      made.strut_types.map((kind) => [
        kind.label, bandWords(kind.band), showLength(kind.cut_length, system), showLength(kind.node_length, system),
        kind.pieces.length > 1 || (kind.pieces[0]?.quantity ?? 1) > 1 ? kind.pieces.map((p) => `${p.quantity} × ${showLength(p.length, system)}`).join(", ") : "1",
        kind.quantity,
        h("button", { type: "button", "aria-label": `Show struts ${kind.label}`, onClick: () => mark(kind.struts) }, "Show"),
      ]), [2, 3, 5]),
    h("button", { type: "button", onClick: () => mark(null) }, "Show all alike"),
    table("Hub types", ["Type", "Valence", "Sockets, anticlockwise from outside", "Quantity"],
      made.hub_types.map((kind) => [kind.label, kind.valence, kind.sockets.join(" "), kind.quantity]), [1, 3]),
    table("Fasteners", ["Item", "Quantity"], made.fasteners.map((one) => [one.item, one.quantity]), [1]),
    h("p", {}, `Mass of struts, hubs and fasteners: ${showMass(made.mass, system)}.`),
    kit ? finder(kit, system, mark) : null);
}

/** "I have this strut left over": by its label or by its measured length. */
function finder(kit: Kit, system: System, mark: (struts: number[] | null) => void): HTMLElement {
  const found = h("div", { "aria-live": "polite" });
  const field = h("input", { id: "left-over", type: "text", placeholder: "C, or 1.234 m, or 4 ft 1 in" });
  const look = (event: Event) => {
    event.preventDefault();
    const typed = readTyped(field.value);
    const all = belongs(kit, typed ? { metres: typed.metres } : { label: field.value.trim() });
    mark(all.length ? (all[0]?.type.struts ?? null) : null);
    fill(found, all.length
      ? h("ul", {}, all.map(({ type, off, steps }) => h("li", {},
          `Type ${type.label} (${bandWords(type.band)}, ${showLength(type.cut_length, system)}${off ? `, measured ${off > 0 ? "longer" : "shorter"} by ${showLength(Math.abs(off), system)}` : ""}): ${type.quantity} in the kit, taken in step${steps.length === 1 ? "" : "s"} ${steps.join(", ") || "none"}.`)))
      : h("p", {}, "No strut type is within 30 mm of that, or bears that label."));
  };
  return h("section", { "aria-labelledby": "left-head" },
    h("h3", { id: "left-head" }, "A part is left over"),
    h("form", { class: "inline", onSubmit: look },
      h("div", { class: "field" }, h("label", { for: "left-over" }, "Its label, or its cut length as measured"), field),
      h("button", { type: "submit" }, "Where does it belong?")),
    found);
}

const MENDED = { passes: "pass", fails: "fail", "not checked": "not_checked" } as const;
const WORD = { pass: "passes", fail: "FAILS", not_checked: "not checked" } as const;

export function checks(kit: Kit, sentence: string, system: System, go: (check: Check) => void): HTMLElement {
  const all = governingFirst(kit.checks ?? []);
  return h("div", {},
    h("p", { class: "verdict" }, sentence),
    h("p", { class: "help" }, "Preliminary engineering, never a certificate. The governing check stands first."),
    h("ol", { class: "checks" }, all.map((check) => one(check, go))),
    kit.structure?.mend?.length ? mends(kit.structure.mend, kit, system) : null,
    notes(kit));
}

/** By how much a number changes; nothing where either is not known. */
export function change(from: number | null | undefined, to: number | null | undefined, show: (value: number) => string): string {
  if (from === null || from === undefined || to === null || to === undefined) return "–";
  const off = to - from;
  return `${off < 0 ? "−" : "+"}${show(Math.abs(off))}`;
}

/** Each change was tried for real; what passes with least stands first. */
export function mends(rows: Mend[], kit: Kit, system: System): HTMLElement {
  const price = kit.price?.is_complete ? kit.price.total : null;
  const currency = kit.price?.currency ?? "";
  const money = (value: number | null) => (value === null ? "–" : `${value.toFixed(0)} ${currency}`);
  return table("What would mend it", ["Change", "Then", "Mass", "Change of mass", "Price", "Change of price", "What is used most then"],
    rows.map((row) => [
      row.change, h("strong", { class: MENDED[row.verdict] }, row.verdict),
      row.mass === null ? "–" : showMass(row.mass, system), change(kit.parts.mass, row.mass, (value) => showMass(value, system)),
      money(row.price), change(price, row.price, money), row.governs,
    ]), [2, 3, 4, 5]);
}

function one(check: Check, go: (check: Check) => void): HTMLElement {
  const { kind, index } = check.subject;
  const subject = index === null ? kind : h("button", { type: "button", onClick: () => go(check) }, `${kind} ${index}`);
  const unit = check.unit === "-" ? "" : ` ${check.unit}`;
  const use = check.utilisation === null ? "" : ` ${check.utilisation.toFixed(2)} of what it can carry`;
  return h("li", {},
    h("p", {}, h("strong", { class: check.status }, WORD[check.status]), `${use} · ${check.code} of `, subject),
    h("p", { class: "help" }, [
      check.demand === null ? "" : `demand ${showNumber(check.demand)}${unit}, capacity ${showNumber(check.capacity)}${unit}`,
      check.combination && `under ${check.combination}`, check.source && `after ${check.source}`,
      check.required ? "" : "for information", check.note,
    ].filter(Boolean).join("; ")));
}

function notes(kit: Kit): HTMLElement | null {
  const said = kit.notes ?? [];
  return said.length ? h("section", {}, h("h3", {}, "Notes"), h("ul", {}, said.map((note) => h("li", {}, note.text, " ", h("code", {}, note.code))))) : null;
}

export function cutting(kit: Kit, system: System): HTMLElement {
  const plan = kit.cutting;
  if (!plan) return h("p", {}, "There is no cutting plan.");
  const alike = new Map<string, { count: number; bar: (typeof plan.bars)[number] }>();
  for (const bar of plan.bars) {
    const key = JSON.stringify([bar.stock, bar.length, bar.cuts]);
    const held = alike.get(key);
    alike.set(key, { count: (held?.count ?? 0) + 1, bar });
  }
  const waste = plan.bought > 0 ? 1 - plan.used / plan.bought : 0;
  return h("div", {},
    h("p", {}, `${plan.bars.length} bars, ${showLength(plan.bought, system)} bought, ${(waste * 100).toFixed(1)} % of it not in pieces. `,
      plan.proven ? "No plan can do better (proven)." : plan.gap === null ? "How much better a plan could be is not known." : `At most ${(plan.gap * 100).toFixed(1)} % could be gained.`),
    table("Bars", ["Bars alike", "Stock", "Bar", "Cuts in order", "Offcut"],
      [...alike.values()].map(({ count, bar }) => [count, bar.stock, showLength(bar.length, system),
        bar.cuts.map((cut) => `${cut.label} ${showLength(cut.length, system)}`).join(" · "), showLength(bar.offcut, system)]), [0, 2, 4]));
}

export function ground(kit: Kit, system: System): HTMLElement {
  const site = kit.site ?? {};
  return h("div", {},
    site.pegs?.length ? table("Pegs", ["Hub", "From", "Distance", "and from", "Distance"],
      site.pegs.map((peg) => [peg.hub, peg.a, showLength(peg.from_a, system), peg.b, showLength(peg.from_b, system)]), [0, 2, 4]) : null,
    site.check_diagonals?.length ? table("Distances to check", ["What", "Hubs", "Length", "Good within"],
      site.check_diagonals.map((one) => [one.kind, `${one.i} – ${one.j}`, showLength(one.length, system), showLength(one.band, system)]), [2, 3]) : null,
    site.anchors?.length ? anchors(site.anchors, system) : null,
    restOf(site as Record<string, unknown>, ["stations", "pegs", "check_diagonals", "anchors"]));
}

function restOf(section: Record<string, unknown>, known: string[]): HTMLElement {
  const left = Object.entries(section).filter(([key, value]) => !known.includes(key) && value !== null && !(Array.isArray(value) && !value.length));
  const plain = left.filter(([, value]) => typeof value !== "object");
  const lists = left.filter(([, value]) => typeof value === "object");
  return h("div", {},
    plain.length ? h("dl", {}, plain.map(([key, value]) => [h("dt", {}, words(key)), h("dd", {}, cell(value))]).flat()) : null,
    lists.map(([key, value]) => (Array.isArray(value) ? rest(words(key), value) : h("section", {}, h("h4", {}, words(key)), restOf(value as Record<string, unknown>, [])))));
}

const MOST_ROWS = 200;

function rest(caption: string, rows: unknown[]): HTMLElement {
  const first = rows[0];
  if (typeof first !== "object" || first === null || Array.isArray(first)) return h("p", {}, `${caption}: ${rows.slice(0, MOST_ROWS).map(cell).join(", ")}`);
  const heads = [...new Set(rows.flatMap((row) => Object.keys(row as object)))];
  const shown = rows.slice(0, MOST_ROWS).map((row) => heads.map((head) => cell((row as Record<string, unknown>)[head])));
  return table(rows.length > MOST_ROWS ? `${caption} (first ${MOST_ROWS} of ${rows.length})` : caption, heads.map(words), shown);
}

const words = (key: string): string => key.charAt(0).toUpperCase() + key.slice(1).replace(/_/g, " ");

function cell(value: unknown): string {
  if (value === null || value === undefined) return "–";
  if (typeof value === "number") return showNumber(value, 4);
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value)) return value.length > 12 ? `${value.length} items` : value.map(cell).join(", ");
  if (typeof value === "object") return Object.entries(value).map(([key, part]) => `${key} ${cell(part)}`).join(", ");
  return String(value);
}

export async function files(name: string, build: () => Promise<boolean>): Promise<HTMLElement> {
  const place = h("div", {});
  const again = async () => {
    const kit = await api.kit(name).catch(() => null);
    fill(place,
      kit && !kit.fresh ? h("p", { class: "note" }, "This kit is of an older text of the brief. Build it again before it is used.") : null,
      h("button", { type: "button", class: "strong", onClick: async () => { if (await build()) await again(); } }, kit ? "Build the kit again" : "Build the kit"),
      h("p", { class: "help" }, `Writes the folder ${name}-kit beside the brief, as the command line does.`),
      kit ? h("p", {}, h("a", { href: api.zipAt(name), download: `${name}-kit.zip`, class: "button" }, "Download the whole kit")) : null,
      kit ? h("ul", { class: "plain files" }, kit.files.map((one) => h("li", {},
        h("a", { href: api.fileAt(name, one.path), target: "_blank", rel: "noopener" }, one.path), ` ${Math.max(1, Math.round(one.size / 1024))} kB`))) : null);
  };
  await again();
  return place;
}
