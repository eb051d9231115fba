import { expect, it } from "vitest";
import { bandWords, typeColour, usedColour } from "../src/scene/colours";

/** Relative luminance and contrast, WCAG 2.2. */
const light = (colour: string): number => {
  const part = (k: number) => {
    const c = parseInt(colour.slice(1 + 2 * k, 3 + 2 * k), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * part(0) + 0.7152 * part(1) + 0.0722 * part(2);
};
const contrast = (a: string, b: string): number => {
  const [x, y] = [light(a), light(b)].sort((p, q) => q - p) as [number, number];
  return (x + 0.05) / (y + 0.05);
};

it("keeps the colours of types apart from a dark stage", () => {
  for (let k = 0; k < 6; k++) expect(contrast(typeColour(k, true), "#23292c")).toBeGreaterThan(3);
});

it("grows evenly with use, deeper on light, brighter on dark, and fails in a colour of its own", () => {
  const steps = [0, 0.25, 0.5, 0.75, 1];
  const onLight = steps.map((used) => light(usedColour(used, { dark: false })));
  const onDark = steps.map((used) => light(usedColour(used, { dark: true })));
  expect(onLight).toEqual([...onLight].sort((a, b) => b - a));
  expect(onDark).toEqual([...onDark].sort((a, b) => a - b));
  expect(usedColour(1.001, { dark: false })).not.toBe(usedColour(1, { dark: false }));
  expect(contrast(usedColour(1.2, { dark: false }), "#f1efe6")).toBeGreaterThan(3);
});

it("says bands in words", () => {
  expect(bandWords("")).toBe("no band");
  expect(bandWords("n")).toBe("1 narrow band");
  expect(bandWords("ww")).toBe("2 wide bands");
  expect(bandWords("nw")).toBe("bands: narrow, wide");
});
