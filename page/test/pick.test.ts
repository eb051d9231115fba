import { expect, it } from "vitest";
import { approach, pick, type Vec } from "../src/scene/pick";
import { placed } from "../src/scene/places";

const hubs: Vec[] = [[0, 0, 0], [2, 0, 0], [0, 5, 0], [2, 5, 0]];
const target = {
  places: placed(hubs, null, 0),
  struts: [[0, 1], [2, 3]] as [number, number][],
  radius: 0.02,
  hubRadius: 0.04,
  shown: () => true,
  kept: () => true,
};

it("finds the gap between a ray and a strut", () => {
  const { gap, along } = approach([1, -3, 0.5], [0, 1, 0], hubs[0]!, hubs[1]!);
  expect(gap).toBeCloseTo(0.5, 12);
  expect(along).toBeCloseTo(3, 12);
  const past = approach([5, -3, 0], [0, 1, 0], hubs[0]!, hubs[1]!);
  expect(past.gap).toBeCloseTo(3, 12);
});

it("takes the nearer strut, the hub before its struts, and nothing beside them", () => {
  expect(pick([1, -3, 0], [0, 1, 0], target, 0)).toEqual({ kind: "strut", index: 0 });
  expect(pick([1, 8, 0], [0, -1, 0], target, 0)).toEqual({ kind: "strut", index: 1 });
  expect(pick([0, -3, 0], [0, 1, 0], target, 0)).toEqual({ kind: "hub", index: 0 });
  expect(pick([1, -3, 0.5], [0, 1, 0], target, 0)).toBeNull();
  expect(pick([1, -3, 0.05], [0, 1, 0], target, 0.02)).toEqual({ kind: "strut", index: 0 });
});

it("does not take what is hidden", () => {
  const hidden = { ...target, shown: (_kind: string, index: number) => index !== 0 };
  expect(pick([1, -3, 0], [0, 1, 0], hidden, 0)).toEqual({ kind: "strut", index: 1 });
});

it("does not take what is cut away, and takes a strut where it is drawn", () => {
  const cut = { ...target, kept: (point: Vec) => point[1] > 1 };
  expect(pick([1, -3, 0], [0, 1, 0], cut, 0)).toEqual({ kind: "strut", index: 1 });
  const moved = { ...target, places: placed(hubs, hubs.map((): Vec => [0, 0, 0.5]), 2) };
  expect(pick([1, -3, 0], [0, 1, 0], moved, 0)).toBeNull();
  expect(pick([1, -3, 1], [0, 1, 0], moved, 0)).toEqual({ kind: "strut", index: 0 });
});
