/** Showing SI numbers to a reader, and the few typed lengths that a slider moves. */

export type System = "metric" | "imperial" | "both";

const FOOT = 0.3048;
const INCH = 0.0254;

/** Feet, inches and sixteenths, halves rounded up. */
export function feetInches(metres: number): string {
  const sixteenths = Math.round((Math.abs(metres) / INCH) * 16);
  const sign = metres < 0 && sixteenths > 0 ? "-" : "";
  const feet = Math.floor(sixteenths / 192);
  const rest = sixteenths - feet * 192;
  const inches = Math.floor(rest / 16);
  let part = rest - inches * 16;
  let below = 16;
  while (part > 0 && part % 2 === 0) {
    part /= 2;
    below /= 2;
  }
  const words: string[] = [];
  if (feet) words.push(`${feet} ft`);
  const whole = inches || !part ? String(inches) : "";
  const number = [whole === "0" && (feet || part) ? "" : whole, part ? `${part}/${below}` : ""];
  const shown = number.filter(Boolean).join(" ");
  if (shown) words.push(`${shown} in`);
  return sign + (words.join(" ") || "0 in");
}

/** A part's length: whole millimetres, sixteenths of an inch. */
export function showLength(metres: number, system: System): string {
  const metric = `${Math.round(metres * 1000)} mm`;
  if (system === "metric") return metric;
  const imperial = feetInches(metres);
  return system === "imperial" ? imperial : `${metric} (${imperial})`;
}

/** A small movement: tenths of a millimetre, thousandths of an inch. */
export function showFine(metres: number, system: System): string {
  const metric = `${(metres * 1000).toFixed(metres < 0.1 ? 1 : 0)} mm`;
  if (system === "metric") return metric;
  const imperial = `${(metres / INCH).toFixed(metres < 0.1 ? 3 : 1)} in`;
  return system === "imperial" ? imperial : `${metric} (${imperial})`;
}

/** The size of a shell: metres to the centimetre. */
export function showSize(metres: number, system: System): string {
  const metric = `${metres.toFixed(2)} m`;
  if (system === "metric") return metric;
  return system === "imperial" ? feetInches(metres) : `${metric} (${feetInches(metres)})`;
}

export function showArea(squareMetres: number, system: System): string {
  const metric = `${squareMetres.toFixed(1)} m²`;
  const imperial = `${Math.round(squareMetres / FOOT ** 2)} ft²`;
  if (system === "metric") return metric;
  return system === "imperial" ? imperial : `${metric} (${imperial})`;
}

export function showMass(kilograms: number, system: System): string {
  const metric = `${kilograms < 10 ? kilograms.toFixed(1) : Math.round(kilograms)} kg`;
  const imperial = `${Math.round(kilograms / 0.45359237)} lb`;
  if (system === "metric") return metric;
  return system === "imperial" ? imperial : `${metric} (${imperial})`;
}

export function showForce(newtons: number, system: System): string {
  const metric = Math.abs(newtons) < 1000 ? `${Math.round(newtons)} N` : `${(newtons / 1000).toFixed(2)} kN`;
  const imperial = `${Math.round(newtons / 4.4482216152605)} lbf`;
  if (system === "metric") return metric;
  return system === "imperial" ? imperial : `${metric} (${imperial})`;
}

export function showSpeed(metresPerSecond: number, system: System): string {
  const metric = `${metresPerSecond.toFixed(1)} m/s`;
  const imperial = `${(metresPerSecond / 0.44704).toFixed(1)} mph`;
  if (system === "metric") return metric;
  return system === "imperial" ? imperial : `${metric} (${imperial})`;
}

export function showNumber(value: number | null | undefined, digits = 3): string {
  if (value === null || value === undefined) return "–";
  if (value === 0) return "0";
  const shown = Number(value.toPrecision(digits));
  return Math.abs(shown) >= 1e6 ? shown.toExponential(digits - 1) : String(shown);
}

export interface Typed {
  metres: number;
  imperial: boolean;
}

const METRIC: Record<string, number> = { mm: 0.001, cm: 0.01, m: 1 };

/** Read a plain typed length so that a slider can move it; null when it is anything else. */
export function readTyped(text: string): Typed | null {
  const metric = /^\s*(\d+(?:\.\d+)?)\s*(mm|cm|m)\s*$/.exec(text);
  if (metric) return { metres: Number(metric[1]) * (METRIC[metric[2] ?? "m"] ?? 1), imperial: false };
  const imperial = /^\s*(?:(\d+(?:\.\d+)?)\s*(?:ft|'))?\s*(?:(\d+(?:\.\d+)?)\s*(?:in|"))?\s*$/.exec(text);
  if (!imperial || (imperial[1] === undefined && imperial[2] === undefined)) return null;
  return { metres: Number(imperial[1] ?? 0) * FOOT + Number(imperial[2] ?? 0) * INCH, imperial: true };
}

/** Write a length as it was typed: whole inches, or centimetres. */
export function writeTyped(metres: number, imperial: boolean): string {
  if (!imperial) return `${metres.toFixed(2)} m`;
  const inches = Math.round(metres / INCH);
  const feet = Math.floor(inches / 12);
  return [feet ? `${feet} ft` : "", inches % 12 ? `${inches % 12} in` : ""].filter(Boolean).join(" ") || "0 in";
}
