import { describe, expect, it } from "vitest";
import { showForce, showSpeed } from "../src/units";
import { priceWords } from "../src/views/supply";

const item = (amount: number | null) => ({ item: "x", quantity: 1, unit: "pieces", amount });

describe("priceWords", () => {
  it("gives a whole price only where everything has one", () => {
    expect(priceWords({ items: [item(10)], total: 1255.4, currency: "EUR", is_complete: true, sensitivity: [] })).toBe("1255 EUR");
    expect(priceWords({ items: [item(10), item(null), item(null)], total: 1255.4, currency: "EUR", is_complete: false, sensitivity: [] })).toBe("1255 EUR and more: 2 items have no price");
  });
  it("says nothing where there is none", () => {
    expect(priceWords(null)).toBeNull();
    expect(priceWords({ items: [], total: null, is_complete: false, sensitivity: [] })).toBeNull();
  });
});

describe("units", () => {
  it("shows forces and speeds in the reader's units", () => {
    expect(showForce(4448.2216152605, "imperial")).toBe("1000 lbf");
    expect(showForce(1790, "metric")).toBe("1.79 kN");
    expect(showSpeed(8, "both")).toBe("8.0 m/s (17.9 mph)");
  });
});
