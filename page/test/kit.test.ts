import { expect, it } from "vitest";
import { belongs, governingFirst, placedAt, usedByType, type Check, type Kit, type Mend } from "../src/kit";
import { rows } from "../src/views/compare";
import { changedLines } from "../src/views/merge";
import { mends } from "../src/views/tables";
import { later } from "../src/work";

const type = (label: string, cut_length: number, struts: number[]) => ({
  label, cut_length, struts, node_length: cut_length + 0.1, quantity: struts.length, role: "shell", band: "n", pieces: [], coupler_at: [],
});
const step = (number: number, struts: number[], hubs: number[], picks: Record<string, number>) => ({ number, struts, hubs, picks });

const kit = {
  shell: { hubs: [[0, 0, 0], [1, 0, 0], [0, 1, 0]], struts: [[0, 1], [0, 2], [1, 2]], width: 1, length: 1, rise: 1, floor_area: 1 },
  parts: { strut_types: [type("A", 1.3, [2]), type("B", 0.9, [0, 1])], hub_types: [], fasteners: [], mass: 3 },
  sequence: { stages: [{ name: "base", steps: [step(1, [0], [0, 1], { B: 1 })] }, { name: "top", steps: [step(2, [1, 2], [2], { A: 1, B: 1 })] }] },
} as unknown as Kit;

const check = (status: Check["status"], utilisation: number | null, required = true, index = 0): Check => ({
  code: "c", subject: { kind: "strut", index }, demand: 1, capacity: 1, unit: "-", utilisation, required, status, combination: "", format: "-", source: "", note: "",
});

it("puts failures first, then what is not made, then by use; what is for information after what is required", () => {
  const all = [check("pass", 0.2), check("not_checked", null), check("pass", 0.9), check("fail", 1.1), check("fail", 3), check("fail", 9, false)];
  expect(governingFirst(all).map((one) => [one.status, one.utilisation])).toEqual([
    ["fail", 3], ["fail", 1.1], ["fail", 9], ["not_checked", null], ["pass", 0.9], ["pass", 0.2],
  ]);
});

it("gives each type the highest use of its struts", () => {
  expect(usedByType({ ...kit, checks: [check("pass", 0.4, true, 0), check("fail", 1.2, true, 1)] })).toEqual([null, 1.2]);
});

it("knows which step places what", () => {
  expect([...placedAt(kit).struts]).toEqual([0, 1, 1]);
  expect([...placedAt(kit).hubs]).toEqual([0, 0, 1]);
});

it("finds where a left-over strut belongs, by label and by measure", () => {
  expect(belongs(kit, { label: "b" }).map((one) => [one.type.label, one.steps])).toEqual([["B", [1, 2]]]);
  expect(belongs(kit, { metres: 1.31 }).map((one) => [one.type.label, one.steps])).toEqual([["A", [2]]]);
  expect(belongs(kit, { metres: 1.1 })).toEqual([]);
});

it("tells by how much mass and price of a mend differ, and leaves out what is not known", () => {
  const priced = { ...kit, price: { items: [], total: 100, currency: "EUR", is_complete: true, sensitivity: [] } } as unknown as Kit;
  const rows: Mend[] = [
    { change: "thicker", verdict: "passes", mass: 5.5, price: 120, governs: "strut 1 at 0.9" },
    { change: "smaller", verdict: "fails", mass: 2, price: null, governs: "strut 2 at 1.2" },
    { change: "plates", verdict: "not checked", mass: 3, price: null, governs: "strut 3 at 0.2" },
  ];
  const cells = (of: Kit) => [...mends(rows, of, "metric").querySelectorAll("tbody tr")].map((row) => [...row.children].map((cell) => cell.textContent));
  expect(cells(priced)).toEqual([
    ["thicker", "passes", "5.5 kg", "+2.5 kg", "120 EUR", "+20 EUR", "strut 1 at 0.9"],
    ["smaller", "fails", "2.0 kg", "−1.0 kg", "–", "–", "strut 2 at 1.2"],
    ["plates", "not checked", "3.0 kg", "+0.0 kg", "–", "–", "strut 3 at 0.2"],
  ]);
  expect(cells({ ...priced, price: { ...priced.price!, is_complete: false } })[0]![5]).toBe("–"); // a least is no base
});

it("keeps the latest of what is dragged", () => {
  expect(later([{ key: "size.width", value: 1 }, { key: "size.rise", value: 2 }], [{ key: "size.width", value: 3 }]))
    .toEqual([{ key: "size.rise", value: 2 }, { key: "size.width", value: 3 }]);
});

it("marks the lines that only one text has", () => {
  expect([...changedLines(["a", "b", "c"], ["a", "c", "d"])]).toEqual([1]);
  expect([...changedLines(["a", "b"], ["a", "b"])]).toEqual([]);
  expect([...changedLines(["x"], [])]).toEqual([0]);
});

it("compares two kits and says what is the same", () => {
  const one = { verdict: "passes" as const, sentence: "", kit, diameter: 0.03 };
  const other = { ...one, kit: { ...kit, shell: { ...kit.shell, struts: kit.shell.struts.slice(1) } } };
  const found = new Map(rows(one, other).map((row) => [row[0], row.slice(1)]));
  expect(found.get("Struts")).toEqual(["3", "2", "−1"]);
  expect(found.get("Steps")).toEqual(["2", "2", "same"]);
  expect(found.get("Price")).toEqual(["–", "–", ""]);
});
