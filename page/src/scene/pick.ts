/** Which hub or strut a ray meets first: plain arithmetic over all, so it needs no scene. */

export type Vec = [number, number, number];
export interface Picked {
  kind: "strut" | "hub";
  index: number;
}

/** Closest approach of the ray from `from` along the unit vector `way` to the segment a-b. */
export function approach(from: Vec, way: Vec, a: Vec, b: Vec): { gap: number; along: number; t: number } {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [wx, wy, wz] = [a[0] - from[0], a[1] - from[1], a[2] - from[2]];
  const uu = ux * ux + uy * uy + uz * uz;
  const ud = ux * way[0] + uy * way[1] + uz * way[2];
  const wd = wx * way[0] + wy * way[1] + wz * way[2];
  const below = uu - ud * ud;
  let t = below > 1e-12 * uu ? (ud * wd - (wx * ux + wy * uy + wz * uz)) / below : 0;
  t = Math.min(Math.max(t, 0), 1);
  const [x, y, z] = [wx + t * ux, wy + t * uy, wz + t * uz];
  const along = Math.max(x * way[0] + y * way[1] + z * way[2], 0);
  return { gap: Math.hypot(x - along * way[0], y - along * way[1], z - along * way[2]), along, t };
}

export interface Target {
  /** Hubs, three numbers each. */
  places: Float64Array;
  struts: readonly (readonly [number, number])[];
  radius: number;
  hubRadius: number;
  shown: (kind: "strut" | "hub", index: number) => boolean;
  /** Whether a point is in the part that is not cut away. */
  kept: (point: Vec) => boolean;
}

/** The nearest thing within reach of the ray; `slack` widens it by that share of the distance. */
export function pick(from: Vec, way: Vec, target: Target, slack: number): Picked | null {
  const { places, struts } = target;
  let best: Picked | null = null;
  let nearest = Infinity;
  const a: Vec = [0, 0, 0];
  const b: Vec = [0, 0, 0];
  const read = (out: Vec, n: number) => {
    for (let k = 0; k < 3; k++) out[k] = places[3 * n + k] ?? 0;
  };
  for (let n = 0; n < places.length / 3; n++) {
    read(a, n);
    const { gap, along } = approach(from, way, a, a);
    const score = along - target.hubRadius; // a hub stands before the struts that end in it
    if (gap > target.hubRadius + slack * along || score >= nearest) continue;
    if (!target.shown("hub", n) || !target.kept(a)) continue;
    nearest = score;
    best = { kind: "hub", index: n };
  }
  for (let s = 0; s < struts.length; s++) {
    const [i, j] = struts[s]!;
    read(a, i);
    read(b, j);
    const { gap, along, t } = approach(from, way, a, b);
    if (gap > target.radius + slack * along || along >= nearest || !target.shown("strut", s)) continue;
    if (!target.kept([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])])) continue;
    nearest = along;
    best = { kind: "strut", index: s };
  }
  return best;
}
