import { Matrix4, Vector3 } from "three";
import { expect, it } from "vitest";
import type { Vec } from "../src/scene/pick";
import { along, arrows, bandsOf, placed, rod } from "../src/scene/places";
import { ringOf } from "../src/scene/meshes";

const hubs: Vec[] = [[0, 0, 0], [1, 2, 3], [0, 0, -4]];

it("lays a rod from hub to hub, round and without shear", () => {
  for (const pair of [[0, 1], [1, 0], [0, 2], [2, 0], [1, 2]] as [number, number][]) {
    const out = new Float32Array(16);
    const { a, way, span } = along(placed(hubs, null, 0), pair);
    rod(out, 0, a, way, 0.5, span, 0.02);
    const turn = new Matrix4().fromArray(out);
    const low = new Vector3(0, -0.5, 0).applyMatrix4(turn).toArray();
    const high = new Vector3(0, 0.5, 0).applyMatrix4(turn).toArray();
    hubs[pair[0]]!.forEach((x, k) => expect(low[k]).toBeCloseTo(x, 5));
    hubs[pair[1]]!.forEach((x, k) => expect(high[k]).toBeCloseTo(x, 5));
    const [x, y, z] = [new Vector3(), new Vector3(), new Vector3()];
    turn.extractBasis(x, y, z);
    for (const [p, q] of [[x, y], [y, z], [z, x]] as const) expect(p.dot(q)).toBeCloseTo(0, 6);
    expect(x.length()).toBeCloseTo(0.02, 6);
    expect(z.length()).toBeCloseTo(0.02, 6);
    expect(turn.determinant()).toBeCloseTo(0.02 * 0.02 * span, 6); // not mirrored: seen from outside
  }
});

it("moves hubs as many times as asked", () => {
  const moved: Vec[] = [[0, 0, 0], [0.1, 0, -0.2], [0, 0, 0]];
  expect([...placed(hubs, moved, 10)].slice(3, 6)).toEqual([2, 2, 1]);
});

it("lets what presses end at its hub and what pulls begin there", () => {
  const top: Vec[] = [[0, 0, 2]];
  const [snow] = arrows(top, [[0, 0, -100]], 0.01, "#000000", [0, 0, 0]);
  expect(snow!.foot.map((x, k) => x + snow!.way[k]!)).toEqual([0, 0, 2]);
  const [suction] = arrows(top, [[0, 0, 100]], 0.01, "#000000", [0, 0, 0]);
  expect(suction!.foot).toEqual([0, 0, 2]);
  expect(suction!.way).toEqual([0, 0, 1]);
});

it("sets bands about the middle, apart, in their order", () => {
  const bands = bandsOf("nw", 0.1);
  const [narrow, wide] = [bands[0]!, bands[1]!];
  expect(narrow.long).toBeLessThan(wide.long);
  expect(narrow.from + narrow.long / 2).toBeLessThan(wide.from - wide.long / 2);
  expect(narrow.from - narrow.long / 2).toBeCloseTo(-(wide.from + wide.long / 2), 12);
  expect(bandsOf("", 0.1)).toEqual([]);
});

it("finds the hubs of a frame in their order", () => {
  const struts: [number, number][] = [[3, 4], [1, 2], [2, 3], [7, 8]];
  const ring = ringOf({ struts }, [0, 1, 2]);
  expect([[1, 2, 3, 4], [4, 3, 2, 1]]).toContainEqual(ring);
  expect(ringOf({ struts: [[0, 1], [1, 2], [2, 0]] }, [0, 1, 2])).toHaveLength(3);
  expect(ringOf({ struts }, [])).toEqual([]);
});
