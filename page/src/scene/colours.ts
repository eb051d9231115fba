/** Colours of struts: by type, by utilisation, by course, by step; each has a second sign beside it. */

const TYPES = ["#25400a", "#b28d1b", "#4798b2", "#4f21d9", "#5b8c67", "#293a40"];
/** Pale to deep, even in lightness; 1.0 ends the scale and beyond it stands a colour of its own. */
const USED = ["#ded9c0", "#c2b47e", "#a1894b", "#775734", "#45261f"];
/** On a dark ground the scale brightens with use. */
const USED_DARK = ["#66727a", "#8a8666", "#b3a05a", "#dcc679", "#fff0b8"];
const OVER = "#c2185b";

/** Arrows of loads; none is the accent's, and each also has its name in the legend. */
const LOADS: Record<string, [string, string]> = {
  snow: ["#22738f", "#8fd3ea"], wind: ["#4f21d9", "#b9a5ff"], hung: ["#8a6a00", "#f0cf6b"], crop: ["#25400a", "#b5d493"],
};

export interface Tokens {
  paper: string;
  ink: string;
  quiet: string;
  accent: string;
  dark: boolean;
}

export function mix(a: string, b: string, share: number): string {
  const at = (colour: string, k: number) => parseInt(colour.slice(1 + 2 * k, 3 + 2 * k), 16);
  const parts = [0, 1, 2].map((k) => Math.round(at(a, k) + (at(b, k) - at(a, k)) * share));
  return "#" + parts.map((part) => part.toString(16).padStart(2, "0")).join("");
}

/** On a dark ground every type colour is lifted, so that none falls under 3:1. */
export function typeColour(index: number, dark: boolean): string {
  const colour = TYPES[((index % TYPES.length) + TYPES.length) % TYPES.length] ?? "#25400a";
  return dark ? mix(colour, "#ffffff", 0.5) : colour;
}

export function usedColour(used: number | null, tokens: Pick<Tokens, "dark">): string {
  if (used === null) return tokens.dark ? "#56616a" : "#b9c0c4";
  if (used > 1) return tokens.dark ? "#ff6fa3" : OVER;
  return along(tokens.dark ? USED_DARK : USED, used);
}

export function courseColour(course: number, most: number, dark = false): string {
  return along(dark ? USED_DARK : USED, most > 0 ? course / most : 0);
}

function along(scale: string[], share: number): string {
  const place = Math.min(Math.max(share, 0), 1) * (scale.length - 1);
  const low = Math.min(Math.floor(place), scale.length - 2);
  return mix(scale[low] ?? "#000000", scale[low + 1] ?? "#000000", place - low);
}

const NAMES: Record<string, string> = { dead: "weight of the frame", cover: "weight of the cover", hung: "what hangs" };

export const loadName = (action: string): string => NAMES[action] ?? action;

export function loadColour(action: string, dark: boolean): string {
  const [light, pale] = LOADS[action] ?? ["#4a565d", "#c3ccd1"];
  return dark ? pale : light;
}

/** Band pattern in words: "nw" is a narrow and a wide band. */
export function bandWords(pattern: string): string {
  if (!pattern) return "no band";
  const narrow = [...pattern].filter((one) => one === "n").length;
  const wide = pattern.length - narrow;
  const order = [...pattern].map((one) => (one === "n" ? "narrow" : "wide")).join(", ");
  if (narrow && wide) return `bands: ${order}`;
  return `${pattern.length} ${narrow ? "narrow" : "wide"} band${pattern.length > 1 ? "s" : ""}`;
}
