import { expect, it } from "vitest";
import type { Shape } from "../src/kit";
import { drawnWords, timesOf } from "../src/scene/shapes";
import { found3d } from "../src/views/find";

const shape = (largest: number, factor: number | null): Shape => ({
  name: "deflected", combination: "1 weight", factor, struts_bow_at: null, moved: [[0, 0, 0], [0, 0, -largest]],
});

it("offers round exaggerations, none so large that the picture is torn", () => {
  const times = timesOf(shape(0.004, null), 6);
  expect(times.slice(0, 5)).toEqual([0, 1, 2, 5, 10]);
  expect(times.at(-1)! * 0.004).toBeLessThanOrEqual(0.15 * 6);
  expect(times.at(-1)! * 0.004).toBeGreaterThan(0.05 * 6); // and not so small that nothing is seen
  expect(timesOf(shape(0, null), 6)).toEqual([0]);
});

it("always offers a shape at its own size, however far it moves", () => {
  expect(timesOf(shape(50, null), 6)).toEqual([0, 1]);
});

it("draws a buckling shape to both sides, for it has no size of its own", () => {
  const times = timesOf(shape(1, 4.2), 6);
  expect(times.at(-1)).toBeCloseTo(0.9, 12);
  expect(times[0]).toBeCloseTo(-0.9, 12);
  expect(times[(times.length - 1) / 2]).toBeCloseTo(0, 12);
});

it("says how many times as large movements are drawn, and how large they are", () => {
  const said = drawnWords(shape(0.0123, null), 20, "both");
  expect(said).toContain("drawn 20 times as large");
  expect(said).toContain("12.3 mm (0.484 in)");
  expect(said).toContain("1 weight");
  const buckled = drawnWords({ ...shape(1, 4.2), struts_bow_at: 3.1 }, 0.5, "metric");
  expect(buckled).toContain("4.2 times the loads");
  expect(buckled).toContain("no size of its own");
  expect(buckled).toContain("3.1 times");
});

it("finds a hub, a strut or a type by what is typed", () => {
  const parts = { strut_types: [{ label: "C", struts: [1, 2] }], hub_types: [] } as never;
  const drawn = { parts, shell: { hubs: [[0, 0, 0]], struts: [[0, 0], [0, 0]] } } as never;
  expect(found3d(" Hub 0", drawn)).toEqual({ kind: "hub", index: 0 });
  expect(found3d("strut1", drawn)).toEqual({ kind: "strut", index: 1 });
  expect(found3d("hub 1", drawn)).toBeNull();
  expect(found3d("c", drawn)).toEqual({ kind: "type", struts: [1, 2] });
  expect(found3d("", drawn)).toBeNull();
});
