/** What a reader means by "hub 12", "strut 40" or "C". */

import type { Drawn } from "../kit";

type Found = { kind: "hub" | "strut"; index: number } | { kind: "type"; struts: number[] };

export function found3d(text: string, { shell, parts }: Pick<Drawn, "parts"> & { shell: Pick<Drawn["shell"], "hubs" | "struts"> }): Found | null {
  const asked = text.trim().toLowerCase();
  const number = /^(hub|strut)\s*(\d+)$/.exec(asked);
  if (number) {
    const kind = number[1] as "hub" | "strut";
    const index = Number(number[2]);
    return index < shell[kind === "hub" ? "hubs" : "struts"].length ? { kind, index } : null;
  }
  const type = parts.strut_types.find((one) => one.label.toLowerCase() === asked);
  return type ? { kind: "type", struts: type.struts } : null;
}
