/** Light and dark: the system's choice unless the reader made one. */

import type { Tokens } from "./scene/colours";

const KEY = "strutwright theme";
const listeners: (() => void)[] = [];

export function tokens(): Tokens {
  const style = getComputedStyle(document.documentElement);
  const read = (name: string) => style.getPropertyValue(name).trim();
  return { paper: read("--stage"), ink: read("--ink"), quiet: read("--quiet"), accent: read("--accent"), dark: isDark() };
}

export function isDark(): boolean {
  const chosen = document.documentElement.dataset["theme"];
  return chosen ? chosen === "dark" : window.matchMedia("(prefers-color-scheme: dark)").matches;
}

export function onTheme(told: () => void): void {
  listeners.push(told);
}

export function begin(): void {
  try {
    const kept = localStorage.getItem(KEY);
    if (kept) document.documentElement.dataset["theme"] = kept;
  } catch {
    // nothing is kept: the system's choice holds
  }
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => listeners.forEach((told) => told()));
}

export function swap(): void {
  const now = isDark() ? "light" : "dark";
  document.documentElement.dataset["theme"] = now;
  try {
    localStorage.setItem(KEY, now);
  } catch {
    // it lasts as long as the window
  }
  listeners.forEach((told) => told());
}
