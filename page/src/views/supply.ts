/** What is bought, packed and paid for: cover, climate, parcels and price, each number with its unit. */

import { h, table } from "../dom";
import type { Climate, Cover, Kit, Packing, Price } from "../kit";
import { showArea, showForce, showLength, showMass, type System } from "../units";

/** The price as a customer may be told it: without what has no price it is a least. */
export function priceWords(price: Price | null | undefined): string | null {
  if (!price || typeof price.total !== "number") return null;
  const total = `${Math.round(price.total)} ${price.currency ?? ""}`.trim();
  return price.is_complete ? total : `${total} and more: ${price.items.filter((one) => one.amount === null).length} items have no price`;
}

export function supply(kit: Kit, system: System): HTMLElement {
  return h("div", {},
    kit.cover ? cover(kit.cover, system) : null,
    kit.climate ? climate(kit.climate, system) : null,
    kit.packing ? parcels(kit.packing, system) : null,
    kit.price ? price(kit.price) : null,
    hasSupply(kit) ? null : h("p", {}, "This kit says nothing of them."));
}

export const hasSupply = (kit: Kit): boolean => Boolean(kit.cover || kit.climate || kit.packing || kit.price);

function facts(rows: (readonly [string, string] | null)[]): HTMLElement {
  return h("dl", {}, rows.flatMap((row) => (row ? [h("dt", {}, row[0]), h("dd", {}, row[1])] : [])));
}

function section(title: string, ...parts: (HTMLElement | null)[]): HTMLElement {
  return h("section", {}, h("h3", {}, title), ...parts);
}

function cover(made: Cover, system: System): HTMLElement {
  return section("Cover",
    facts([
      ["Material", made.material], ["Layers", String(made.layers)],
      ["In pieces", showArea(made.used, system)], ["To buy", showArea(made.bought, system)],
      made.mass === null ? null : ["Mass", showMass(made.mass, system)],
      made.air_gap === null ? null : ["Air gap", showLength(made.air_gap, system)],
    ]),
    made.rolls.length ? table("Rolls", ["Layer", "Width", "Length", "Used"],
      made.rolls.map((one) => [one.layer, showLength(one.width, system), showLength(one.length, system), showLength(one.used, system)]), [1, 2, 3]) : null,
    made.strips.length ? table("Film pieces", ["Piece", "Layer", "Faces", "Length", "Width", "Area"],
      made.strips.map((one) => [one.label, one.layer, one.faces.length, showLength(one.length, system), showLength(one.width, system), showArea(one.area, system)]), [2, 3, 4, 5]) : null,
    made.panels.length ? table("Panels", ["Panel", "Layer", "Quantity", "Mirror of"],
      made.panels.map((one) => [one.label, one.layer, one.quantity, one.mirror_of || "–"]), [2]) : null);
}

const watts = (value: number): string => (Math.abs(value) >= 1000 ? `${(value / 1000).toFixed(2)} kW` : `${Math.round(value)} W`);

function climate(made: Climate, system: System): HTMLElement {
  const { heat_loss: loss, vents, fan } = made;
  return section("Climate",
    facts([
      loss ? ["Heat loss", `${watts(loss.total)}: cover ${watts(loss.through_cover)}, air ${watts(loss.by_air)}, edge ${watts(loss.at_edge)}`] : null,
      made.heater === null ? null : ["Heater", watts(made.heater)],
      vents?.low ? ["Low vents", `${showArea(vents.low.area, system)}, ${(vents.low.share * 100).toFixed(0)} % of the floor`] : null,
      vents?.high ? ["High vents", `${showArea(vents.high.area, system)}, ${(vents.high.share * 100).toFixed(0)} % of the floor`] : null,
      fan ? ["Fan instead", `${fan.least.toFixed(2)} to ${fan.most.toFixed(2)} m³/s`] : null,
      made.summer_rise === null ? null : ["Warmer than outside in summer, by vents", `${made.summer_rise.toFixed(1)} K`],
    ]),
    table("Headroom", ["Upright to", "Floor"], made.headroom.map(([height, floor]) => [showLength(height, system), showArea(floor, system)]), [0, 1]));
}

function parcels(made: Packing, system: System): HTMLElement {
  const fewest = made.proven ? "No packing needs fewer." : `At least ${made.bound} are needed.`;
  return section("Parcels",
    h("p", {}, `${made.parcels.length} parcels by ${made.carrier}. ${fewest}`),
    table("Parcels", ["Parcel", "Contents", "Length", "Width", "Height", "Mass"],
      made.parcels.map((one, k) => [k + 1, Object.entries(one.contents).map(([label, n]) => `${n} × ${label}`).join(", "),
        showLength(one.length, system), showLength(one.width, system), showLength(one.height, system), showMass(one.mass, system)]), [0, 2, 3, 4, 5]));
}

function price(made: Price): HTMLElement {
  const currency = made.currency ?? "";
  const amount = (value: number | null): string => (value === null ? "no price" : value.toFixed(2));
  const quantity = (value: number, unit: string): string => (unit === "share" ? `${(value * 100).toFixed(0)} %` : `${Number(value.toFixed(2))} ${unit}`);
  return section("Price",
    h("p", {}, h("strong", {}, priceWords(made) ?? "not known")),
    table(`Items, ${currency}`, ["Item", "Quantity", "Amount"], made.items.map((one) => [one.item, quantity(one.quantity, one.unit), amount(one.amount)]), [1, 2]),
    made.sensitivity.length ? table("Bars at another width", ["Change of width", "Change of their cost"],
      made.sensitivity.map((one) => [`${one.change > 0 ? "+" : "−"}${Math.abs(one.change).toFixed(1)} m`, `${one.share > 0 ? "+" : "−"}${Math.abs(one.share * 100).toFixed(0)} %`]), [0, 1]) : null);
}

export function anchors(rows: NonNullable<NonNullable<Kit["site"]>["anchors"]>, system: System): HTMLElement {
  return table("Anchors", ["Hub", "Lifts", "Pulls sideways", "Anchor", "Number"],
    rows.map((one) => [one.hub, showForce(one.uplift, system), showForce(one.horizontal, system), one.anchor ?? "none fits", one.quantity]), [0, 1, 2, 4]);
}
