/** The meshes of the stage, each one draw call: struts, hubs, bands, skin, arrows, lines. */

import {
  BufferAttribute, BufferGeometry, Color, CylinderGeometry, DoubleSide, InstancedBufferAttribute, InstancedMesh, LatheGeometry,
  LineBasicMaterial, LineSegments, type Material, Mesh, MeshLambertMaterial, type Scene, SphereGeometry, Vector2,
} from "three";
import type { Drawn } from "../kit";
import type { Tokens } from "./colours";
import type { Look } from "./scene";
import { along, at, bandsOf, rod } from "./places";

export interface Scenery {
  drawn: Drawn;
  look: Look;
  tokens: Tokens;
  places: Float64Array;
  size: number;
}

type Made = Mesh | InstancedMesh | LineSegments;

export function drop(scene: Scene, mesh: Made): void {
  scene.remove(mesh);
  mesh.geometry.dispose();
  (mesh.material as Material).dispose();
  if (mesh instanceof InstancedMesh) mesh.dispose();
}

/** Each colour is read once: thousands of parts share a few. */
class Colours {
  private known = new Map<string, Color>();
  write(out: Float32Array, k: number, name: string): void {
    let colour = this.known.get(name);
    if (!colour) this.known.set(name, (colour = new Color(name)));
    out[3 * k] = colour.r;
    out[3 * k + 1] = colour.g;
    out[3 * k + 2] = colour.b;
  }
}

function instanced(shape: BufferGeometry, matrices: Float32Array, colours: Float32Array | null, colour = "#ffffff"): InstancedMesh {
  const count = matrices.length / 16;
  const mesh = new InstancedMesh(shape, new MeshLambertMaterial({ color: colour }), 0);
  mesh.instanceMatrix = new InstancedBufferAttribute(matrices, 16);
  if (colours) mesh.instanceColor = new InstancedBufferAttribute(colours, 3);
  mesh.count = count;
  mesh.frustumCulled = false;
  return mesh;
}

const shownOf = (look: Look, kind: "strut" | "hub", count: number): number[] => {
  const shown: number[] = [];
  for (let k = 0; k < count; k++) if (look.shown(kind, k)) shown.push(k);
  return shown;
};

export function struts({ drawn, look, places }: Scenery): InstancedMesh {
  const shown = shownOf(look, "strut", drawn.shell.struts.length);
  const matrices = new Float32Array(16 * shown.length);
  const colours = new Float32Array(3 * shown.length);
  const of = new Colours();
  shown.forEach((s, k) => {
    const { a, way, span } = along(places, drawn.shell.struts[s]!);
    rod(matrices, k, a, way, 0.5, span, drawn.diameter / 2);
    of.write(colours, k, look.colour(s));
  });
  return instanced(new CylinderGeometry(1, 1, 1, 10, 1), matrices, colours);
}

export function hubs({ drawn, look, places }: Scenery): InstancedMesh {
  const shown = shownOf(look, "hub", drawn.shell.hubs.length);
  const matrices = new Float32Array(16 * shown.length);
  const colours = new Float32Array(3 * shown.length);
  const of = new Colours();
  shown.forEach((n, k) => {
    for (const one of [0, 5, 10, 15]) matrices[16 * k + one] = 1;
    matrices.set(at(places, n), 16 * k + 12);
    of.write(colours, k, look.hubColour(n));
  });
  return instanced(new SphereGeometry(drawn.diameter * 0.95, 12, 8), matrices, colours);
}

export function bands({ drawn, look, tokens, places }: Scenery): InstancedMesh | null {
  const known = new Map<string, ReturnType<typeof bandsOf>>();
  const all: { s: number; from: number; long: number }[] = [];
  drawn.shell.struts.forEach((_, s) => {
    const pattern = look.shown("strut", s) ? look.bands(s) : "";
    if (!pattern) return;
    let found = known.get(pattern);
    if (!found) known.set(pattern, (found = bandsOf(pattern, drawn.diameter)));
    for (const band of found) all.push({ s, ...band });
  });
  if (!all.length) return null;
  const matrices = new Float32Array(16 * all.length);
  all.forEach(({ s, from, long }, k) => {
    const { a, way, span } = along(places, drawn.shell.struts[s]!);
    rod(matrices, k, a, way, 0.5 + from / span, long, drawn.diameter * 0.58);
  });
  return instanced(new CylinderGeometry(1, 1, 1, 10, 1), matrices, null, tokens.dark ? "#101416" : "#ffffff");
}

/** Cover over all faces, and what closes or may open an opening, in one mesh. */
export function skin({ drawn, look, tokens, places }: Scenery): Mesh | null {
  const { shell } = drawn;
  const apart = new Set(shell.openings.filter(isFlap).flatMap((one) => one.faces));
  const faces = look.cover ? shell.faces.filter((_, f) => !apart.has(f)) : [];
  const leaves = look.openings ? leavesOf(shell) : [];
  if (!faces.length && !leaves.length) return null;
  const all = [...faces, ...leaves];
  const corners = new Float32Array(9 * all.length);
  const colours = new Float32Array(12 * all.length);
  const film = new Color(tokens.dark ? "#b8c4c0" : "#8fa39b");
  const leaf = new Color(tokens.dark ? "#ffd27d" : "#8a5a00");
  all.forEach((face, f) => {
    const [colour, opaque] = f < faces.length ? [film, 0.28] : [leaf, 0.55];
    face.forEach((n, k) => {
      corners.set(at(places, n), 9 * f + 3 * k);
      colours.set([colour.r, colour.g, colour.b, opaque], 12 * f + 4 * k);
    });
  });
  const shape = new BufferGeometry();
  shape.setAttribute("position", new BufferAttribute(corners, 3));
  shape.setAttribute("color", new BufferAttribute(colours, 4));
  shape.computeVertexNormals();
  const material = new MeshLambertMaterial({ vertexColors: true, transparent: true, side: DoubleSide, depthWrite: false, forceSinglePass: true });
  return new Mesh(shape, material);
}

type Shell = Drawn["shell"];

/** A vent opens its own faces; a door stands in its frame, and its faces fill what is left round it. */
const isFlap = (one: Shell["openings"][number]): boolean => one.kind === "vent";

/** Triangles over every opening. */
function leavesOf(shell: Shell): [number, number, number][] {
  return shell.openings.flatMap((one) => (isFlap(one) ? one.faces.map((f) => shell.faces[f]!) : fan(ringOf(shell, one.struts))));
}

const fan = (ring: number[]): [number, number, number][] => ring.slice(2).map((_, k) => [ring[0]!, ring[k + 1]!, ring[k + 2]!]);

/** The hubs along a chain of struts, from one end to the other or once round. */
export function ringOf(shell: Pick<Shell, "struts">, chain: number[]): number[] {
  const next = new Map<number, number[]>();
  for (const s of chain) {
    const [i, j] = shell.struts[s]!;
    next.set(i, [...(next.get(i) ?? []), j]);
    next.set(j, [...(next.get(j) ?? []), i]);
  }
  const ends = [...next].filter(([, others]) => others.length === 1).map(([n]) => n);
  const first = ends[0] ?? next.keys().next().value;
  if (first === undefined) return [];
  const ring = [first];
  const seen = new Set(ring);
  for (let now: number | undefined = first; now !== undefined; ) {
    now = next.get(now)?.find((n) => !seen.has(n));
    if (now === undefined) break;
    ring.push(now);
    seen.add(now);
  }
  return ring;
}

/** An arrow of unit length along +y whose foot is the origin. */
const PROFILE = [[0, 0], [1, 0], [1, 0.7], [3, 0.7], [0, 1]] as const;

export function arrows({ look, size }: Scenery): InstancedMesh | null {
  if (!look.arrows.length) return null;
  const matrices = new Float32Array(16 * look.arrows.length);
  const colours = new Float32Array(3 * look.arrows.length);
  const of = new Colours();
  look.arrows.forEach(({ foot, way, colour }, k) => {
    rod(matrices, k, foot, way, 0, Math.hypot(...way), size * 0.0035);
    of.write(colours, k, colour);
  });
  const shape = new LatheGeometry(PROFILE.map(([x, y]) => new Vector2(x, y)), 8);
  return instanced(shape, matrices, colours);
}

/** The shape as designed while it is drawn moved, and what is measured. */
export function lines({ drawn, look, tokens }: Scenery): LineSegments | null {
  const { shell } = drawn;
  const ghosts = look.moved && look.moved.times !== 0 ? shell.struts : [];
  const count = ghosts.length + look.lines.length;
  if (!count) return null;
  const corners = new Float32Array(6 * count);
  const colours = new Float32Array(6 * count);
  const of = new Colours();
  ghosts.forEach(([i, j], k) => {
    corners.set(shell.hubs[i]!, 6 * k);
    corners.set(shell.hubs[j]!, 6 * k + 3);
    for (const end of [0, 1]) of.write(colours, 2 * k + end, tokens.quiet);
  });
  look.lines.forEach(([a, b], k) => {
    const row = ghosts.length + k;
    corners.set(a, 6 * row);
    corners.set(b, 6 * row + 3);
    for (const end of [0, 1]) of.write(colours, 2 * row + end, tokens.accent);
  });
  const shape = new BufferGeometry();
  shape.setAttribute("position", new BufferAttribute(corners, 3));
  shape.setAttribute("color", new BufferAttribute(colours, 3));
  const made = new LineSegments(shape, new LineBasicMaterial({ vertexColors: true, transparent: true, depthTest: look.lines.length === 0 }));
  made.renderOrder = 1; // after all else, so that what is measured is seen through it
  made.frustumCulled = false;
  return made;
}
