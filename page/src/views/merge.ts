/** Two windows changed one brief: both texts side by side, merged by hand, nothing overwritten. */

import type { Conflict } from "../api";
import { h } from "../dom";

/** Line numbers of `a` that are not in `b`, in order (longest common subsequence). */
export function changedLines(a: string[], b: string[]): Set<number> {
  const wide = b.length + 1;
  const long = new Uint32Array((a.length + 1) * wide);
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      long[i * wide + j] = a[i] === b[j] ? (long[(i + 1) * wide + j + 1] ?? 0) + 1 : Math.max(long[(i + 1) * wide + j] ?? 0, long[i * wide + j + 1] ?? 0);
    }
  }
  const changed = new Set<number>();
  let [i, j] = [0, 0];
  while (i < a.length) {
    if (j < b.length && a[i] === b[j]) [i, j] = [i + 1, j + 1];
    else if (j < b.length && (long[i * wide + j + 1] ?? 0) >= (long[(i + 1) * wide + j] ?? 0)) j += 1;
    else changed.add(i++);
  }
  return changed;
}

export function merge(conflict: Conflict, save: (text: string, revision: string) => Promise<boolean>, close: () => void): HTMLElement {
  const theirs = conflict.theirs.text.split("\n");
  const changed = changedLines(theirs, conflict.yours.split("\n"));
  const area = h("textarea", { id: "merged", rows: 18, spellcheck: "false" });
  area.value = conflict.yours;
  return h("section", { class: "conflict", role: "alertdialog", "aria-labelledby": "conflict-head" },
    h("h2", { id: "conflict-head" }, "This brief was changed meanwhile"),
    h("p", {}, "Another window or program saved it. Nothing was overwritten. Marked lines stand only in theirs: take over what you want, then save."),
    h("div", { class: "two" },
      h("div", {}, h("h3", {}, "Theirs, as it lies in the file"),
        h("pre", { tabindex: 0 }, theirs.map((line, k) => h("span", { class: changed.has(k) ? "line other" : "line" }, `${changed.has(k) ? "› " : "  "}${line}\n`)))),
      h("div", {}, h("label", { for: "merged" }, "Yours, to be merged here"), area)),
    h("div", { class: "actions" },
      h("button", { type: "button", class: "strong", onClick: () => void save(area.value, conflict.theirs.revision) }, "Save the merged text"),
      h("button", { type: "button", onClick: () => void save(conflict.theirs.text, conflict.theirs.revision) }, "Take theirs"),
      h("button", { type: "button", onClick: close }, "Not now")));
}
