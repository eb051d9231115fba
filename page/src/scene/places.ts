/** Where instances stand: flat arrays filled by plain arithmetic, so that thousands take milliseconds. */

import type { Vec } from "./pick";

/** Hubs as one flat array, each moved by `times` its movement. */
export function placed(hubs: Vec[], moved: Vec[] | null, times: number): Float64Array {
  const places = new Float64Array(3 * hubs.length);
  hubs.forEach((hub, n) => {
    const by = moved?.[n];
    for (let k = 0; k < 3; k++) places[3 * n + k] = hub[k]! + (by ? times * by[k]! : 0);
  });
  return places;
}

/** Write into `out`, at matrix `k`, a rod of unit radius along +y: from `a` along `way`, centred at share `t`. */
export function rod(out: Float32Array, k: number, a: Vec, way: Vec, t: number, long: number, thick: number): void {
  const span = Math.hypot(way[0], way[1], way[2]) || 1;
  const [ux, uy, uz] = [way[0] / span, way[1] / span, way[2] / span];
  // any direction across will do: a rod is round
  let [px, py, pz] = Math.abs(uz) < 0.9 ? [-uy, ux, 0] : [0, -uz, uy];
  const p = Math.hypot(px, py, pz) || 1;
  [px, py, pz] = [px / p, py / p, pz / p];
  const [qx, qy, qz] = [py * uz - pz * uy, pz * ux - px * uz, px * uy - py * ux];
  const at = 16 * k;
  out[at] = px * thick;
  out[at + 1] = py * thick;
  out[at + 2] = pz * thick;
  out[at + 4] = ux * long;
  out[at + 5] = uy * long;
  out[at + 6] = uz * long;
  out[at + 8] = qx * thick;
  out[at + 9] = qy * thick;
  out[at + 10] = qz * thick;
  out[at + 12] = a[0] + way[0] * t;
  out[at + 13] = a[1] + way[1] * t;
  out[at + 14] = a[2] + way[2] * t;
  out[at + 15] = 1;
}

export const at = (places: Float64Array, n: number): Vec => [places[3 * n]!, places[3 * n + 1]!, places[3 * n + 2]!];

/** Start of a strut and the way to its other end. */
export function along(places: Float64Array, [i, j]: readonly [number, number]): { a: Vec; way: Vec; span: number } {
  const a = at(places, i);
  const b = at(places, j);
  const way: Vec = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  return { a, way, span: Math.hypot(...way) || 1 };
}

const NARROW = 0.45; // length of a band in diameters of its strut
const WIDE = 1.3;
const APART = 0.5;

/** Middle and length of every band of a strut, m from the strut's middle; narrow "n" and wide "w". */
export function bandsOf(pattern: string, diameter: number): { from: number; long: number }[] {
  const wide = [...pattern].map((one) => (one === "w" ? WIDE : NARROW));
  let from = -(wide.reduce((sum, one) => sum + one, 0) + APART * (wide.length - 1)) / 2;
  return wide.map((one) => {
    const place = { from: (from + one / 2) * diameter, long: one * diameter };
    from += one + APART;
    return place;
  });
}

export interface Arrow {
  foot: Vec;
  way: Vec;
  colour: string;
}

/** Arrows of forces at hubs: what presses ends at its hub, what pulls outward begins there. */
export function arrows(hubs: Vec[], forces: Vec[], perNewton: number, colour: string, middle: Vec): Arrow[] {
  const most = Math.max(0, ...forces.map((force) => Math.hypot(...force)));
  return forces.flatMap((force, n) => {
    const hub = hubs[n];
    if (!hub || Math.hypot(...force) < most * 0.01) return [];
    const way: Vec = [force[0] * perNewton, force[1] * perNewton, force[2] * perNewton];
    const outward = (hub[0] - middle[0]) * way[0] + (hub[1] - middle[1]) * way[1] + (hub[2] - middle[2]) * way[2] > 0;
    const foot: Vec = outward ? [hub[0], hub[1], hub[2]] : [hub[0] - way[0], hub[1] - way[1], hub[2] - way[2]];
    return [{ foot, way, colour }];
  });
}
