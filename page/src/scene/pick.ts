/** Which hub or strut a ray meets first: plain arithmetic over all, so it needs no scene. */

export type Vec = [number, number, number];
export interface Picked {
  kind: "strut" | "hub";
  index: number;
}

const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Closest approach of the ray from `from` along the unit vector `way` to the segment a-b. */
export function approach(from: Vec, way: Vec, a: Vec, b: Vec): { gap: number; along: number } {
  const u = sub(b, a);
  const w = sub(a, from);
  const uu = dot(u, u);
  const ud = dot(u, way);
  const below = uu - ud * ud;
  let t = below > 1e-12 * uu ? (ud * dot(w, way) - dot(w, u)) / below : 0;
  t = Math.min(Math.max(t, 0), 1);
  const point: Vec = [a[0] + t * u[0], a[1] + t * u[1], a[2] + t * u[2]];
  const out = sub(point, from);
  const along = Math.max(dot(out, way), 0);
  const rest: Vec = [out[0] - along * way[0], out[1] - along * way[1], out[2] - along * way[2]];
  return { gap: Math.sqrt(dot(rest, rest)), along };
}

export interface Target {
  hubs: Vec[];
  struts: [number, number][];
  radius: number;
  hubRadius: number;
  shown: (kind: "strut" | "hub", index: number) => boolean;
}

/** The nearest thing within reach of the ray; `slack` widens it by that share of the distance. */
export function pick(from: Vec, way: Vec, target: Target, slack: number): Picked | null {
  let best: Picked | null = null;
  let nearest = Infinity;
  target.hubs.forEach((hub, index) => {
    if (!target.shown("hub", index)) return;
    const { gap, along } = approach(from, way, hub, hub);
    const score = along - target.hubRadius; // a hub stands before the struts that end in it
    if (gap <= target.hubRadius + slack * along && score < nearest) {
      nearest = score;
      best = { kind: "hub", index };
    }
  });
  target.struts.forEach(([i, j], index) => {
    if (!target.shown("strut", index)) return;
    const { gap, along } = approach(from, way, target.hubs[i] ?? [0, 0, 0], target.hubs[j] ?? [0, 0, 0]);
    if (gap <= target.radius + slack * along && along < nearest) {
      nearest = along;
      best = { kind: "strut", index };
    }
  });
  return best;
}
