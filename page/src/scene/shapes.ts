/** Shapes that loads give, and how many times as large as they are they can be drawn. */

import type { Picture, Shape } from "../kit";
import { showFine, showForce, showNumber, type System } from "../units";

/** Share of the shell's size that the largest movement may take in the picture. */
const MOST = 0.15;
/** Places of the slider of a shape without a size of its own. */
const PARTS = 10;

export const hasSize = (shape: Shape): boolean => shape.factor === null;

export function largest(shape: Shape): number {
  return Math.max(0, ...shape.moved.map((by) => Math.hypot(...by)));
}

/** What the slider goes through: 0, then 1, 2, 5, 10 … times; shares of the size for a buckling shape. */
export function timesOf(shape: Shape, size: number): number[] {
  const most = largest(shape);
  if (most === 0) return [0];
  if (!hasSize(shape)) return Array.from({ length: 2 * PARTS + 1 }, (_, k) => (((k - PARTS) / PARTS) * MOST * size) / most);
  const times = [0, 1];
  for (let ten = 1; times.length < 40; ten *= 10) {
    for (const step of [2, 5, 10]) {
      if (step * ten * most > MOST * size) return times;
      times.push(step * ten);
    }
  }
  return times;
}

export function shapeName(shape: Shape): string {
  const again = shape.factor === null || shape.factor === 0 ? "" : `, at ${showNumber(shape.factor)} × the loads`;
  return shape.name.charAt(0).toUpperCase() + shape.name.slice(1) + again;
}

/** How the shape is drawn, in words that stand under the picture. */
export function drawnWords(shape: Shape, times: number, system: System): string {
  const under = shape.combination ? ` Under ${shape.combination}.` : "";
  if (hasSize(shape)) {
    return `Movements drawn ${times} times as large; the largest is ${showFine(largest(shape), system)}.${under}`;
  }
  if (shape.factor === 0) return "The kit can move so without any resistance. How far it is drawn says nothing.";
  const bow = shape.struts_bow_at === null ? "" : ` Struts bow between hubs sooner, at ${showNumber(shape.struts_bow_at)} times the loads.`;
  return `Hubs move so at ${showNumber(shape.factor)} times the loads. A buckling shape has no size of its own: how far it is drawn says nothing.${bow}${under}`;
}

/** The actions whose arrows are wanted; "all" is every one of them. */
export function loadsShown(picture: Picture, wanted: string): Picture["loads"] {
  return wanted === "all" ? picture.loads : picture.loads.filter((load) => load.action === wanted);
}

export function loadWords(picture: Picture, wanted: string, system: System): string {
  const shown = loadsShown(picture, wanted);
  const most = Math.max(0, ...shown.flatMap((load) => load.forces.map((force) => Math.hypot(...force))));
  return `Longest arrow ${showForce(most, system)}, factors in it; half of what lies on a strut stands at each of its hubs. ${shown.flatMap((load) => load.cases).join(" + ")}.`;
}
