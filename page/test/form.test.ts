import { expect, it, vi } from "vitest";
import { at, Form, typedValue, type Schema } from "../src/form";

const root: Schema = {
  $defs: { Row: { properties: { kind: { enum: ["door", "vent"] }, width: { type: "string" } }, type: "object" } },
  properties: {
    project: { type: "object", properties: { name: { type: "string", description: "Its name." } } },
    size: { type: "object", properties: { width: { type: "string" }, freedom: { anyOf: [{ type: "string" }, { type: "array", items: { type: "string" } }] } } },
    openings: { type: "array", items: { $ref: "#/$defs/Row" } },
  },
};
const freedom = root.properties!["size"]!.properties!["freedom"]!;

it("reads what was typed as the key takes it, and leaves units alone", () => {
  expect(typedValue("18 ft 4 in", { type: "string" }, root)).toBe("18 ft 4 in");
  expect(typedValue("8 %", freedom, root)).toBe("8 %");
  expect(typedValue("5.0 m, 6.4 m", freedom, root)).toEqual(["5.0 m", "6.4 m"]);
  expect(typedValue("38.5", { type: "number" }, root)).toBe(38.5);
  expect(typedValue("5", { type: "string" }, root)).toBe("5");
  expect(typedValue("  ", { type: "string" }, root)).toBeNull();
  expect(typedValue("2, 0", { type: "array", items: { type: "integer" } }, root)).toEqual([2, 0]);
});

it("finds a value by its key", () => {
  expect(at({ openings: [{ kind: "door" }, { kind: "vent" }] }, "openings[1].kind")).toBe("vent");
  expect(at({}, "size.width")).toBeUndefined();
});

it("shows values, gives changes, and puts problems beside their fields", () => {
  const set = vi.fn();
  const form = new Form(root, set);
  document.body.append(form.element);
  form.show({ size: { width: "6.0 m" }, openings: [{ kind: "door" }] });
  const width = document.getElementById("f-size.width") as HTMLInputElement;
  expect(width.value).toBe("6.0 m");
  width.value = "20 ft";
  width.dispatchEvent(new Event("change"));
  expect(set).toHaveBeenCalledWith("size.width", "20 ft");
  const problem = { code: "x", what: "no unit", where: "", mend: "write 6 m", key: "size.width", line: 1 };
  const left = form.tell([problem, { ...problem, key: "nowhere" }]);
  expect(left.map((one) => one.key)).toEqual(["nowhere"]);
  expect(document.getElementById("p-size.width")?.textContent).toContain("no unit");
  expect(width.getAttribute("aria-invalid")).toBe("true");
  form.tell([]);
  expect(width.hasAttribute("aria-invalid")).toBe(false);
  expect(form.element.querySelectorAll(".row.opening")).toHaveLength(1);
});
