import { describe, expect, it } from "vitest";
import { feetInches, readTyped, showLength, showMass, writeTyped } from "../src/units";

describe("lengths", () => {
  it("shows feet, inches and sixteenths", () => {
    expect(feetInches(0.3048)).toBe("1 ft");
    expect(feetInches(5.588)).toBe("18 ft 4 in");
    expect(feetInches(0.0254 * 94.5)).toBe("7 ft 10 1/2 in");
    expect(feetInches(0.0254 / 16)).toBe("1/16 in");
    expect(feetInches(0)).toBe("0 in");
    expect(feetInches(-0.0254 * 13.25)).toBe("-1 ft 1 1/4 in");
    expect(feetInches(0.3048 + 0.0127)).toBe("1 ft 1/2 in");
    expect(feetInches(0.3048 * 2 - 0.0001)).toBe("2 ft");
  });
  it("shows both systems", () => {
    expect(showLength(1.2345, "both")).toBe("1235 mm (4 ft 5/8 in)");
    expect(showMass(100, "imperial")).toBe("220 lb");
  });
  it("moves what was typed, in the units it was typed in", () => {
    expect(readTyped("18 ft 4 in")).toEqual({ metres: 18 * 0.3048 + 4 * 0.0254, imperial: true });
    expect(readTyped("6.0 m")?.metres).toBe(6);
    expect(readTyped("600 cm")?.metres).toBeCloseTo(6);
    expect(readTyped("6")).toBeNull();
    expect(readTyped("")).toBeNull();
    expect(readTyped("about 6 m")).toBeNull();
    expect(writeTyped(5.588, true)).toBe("18 ft 4 in");
    expect(writeTyped(6, false)).toBe("6.00 m");
    for (const text of ["18 ft 4 in", "20 ft", "11 in"]) {
      const typed = readTyped(text);
      expect(typed && writeTyped(typed.metres, typed.imperial)).toBe(text);
    }
  });
});
