/** What the page reads of kit.json; whatever is absent there is not shown. */

export interface StrutType {
  label: string;
  node_length: number;
  cut_length: number;
  quantity: number;
  struts: number[];
  role: string;
  band: string;
  pieces: { length: number; quantity: number }[];
  coupler_at: number[];
}

export interface HubType {
  label: string;
  valence: number;
  quantity: number;
  hubs: number[];
  spokes: { azimuth: number; dip: number }[];
  sockets: string[];
}

export interface Shell {
  hubs: [number, number, number][];
  struts: [number, number][];
  role: string[];
  faces: [number, number, number][];
  base: number[];
  course: number[];
  openings: { name: string; kind: string; hubs: number[]; struts: number[]; faces: number[] }[];
  width: number;
  length: number;
  rise: number;
  floor_area: number;
  cover_area: number;
  volume: number;
}

export interface Parts {
  strut_types: StrutType[];
  hub_types: HubType[];
  fasteners: { item: string; quantity: number }[];
  mass: number;
}

export interface Check {
  code: string;
  subject: { kind: string; index: number | null };
  demand: number | null;
  capacity: number | null;
  unit: string;
  utilisation: number | null;
  required: boolean;
  status: "pass" | "fail" | "not_checked";
  combination: string;
  format: string;
  source: string;
  note: string;
}

export interface Step {
  number: number;
  picks: Record<string, number>;
  hubs: number[];
  struts: number[];
  repeats?: number;
  props_placed?: string[];
  props_removed?: string[];
  people?: number | null;
  reach?: number;
  platform?: number;
  lift?: number;
  mechanisms?: number;
  check?: { wind: number; passes: boolean } | null;
  minutes?: number;
}

export interface Note {
  code: string;
  text: string;
}

export interface Drawn {
  shell: Shell;
  parts: Parts;
  diameter: number;
}

export interface Price {
  items: { item: string; quantity: number; unit: string; amount: number | null }[];
  total: number | null;
  currency?: string;
  is_complete: boolean;
  sensitivity: { change: number; share: number }[];
}

export interface Packing {
  carrier: string;
  parcels: { contents: Record<string, number>; length: number; width: number; height: number; mass: number }[];
  proven: boolean;
  bound: number;
}

export interface Cover {
  material: string;
  layers: number;
  used: number;
  bought: number;
  mass: number | null;
  air_gap: number | null;
  rolls: { layer: string; width: number; length: number; used: number }[];
  strips: { label: string; layer: string; faces: number[]; length: number; width: number; area: number }[];
  panels: { label: string; layer: string; quantity: number; mirror_of: string }[];
}

interface Vent {
  area: number;
  share: number;
}

export interface Climate {
  heat_loss: { total: number; through_cover: number; by_air: number; at_edge: number } | null;
  heater: number | null;
  vents: { low: Vent | null; high: Vent | null } | null;
  fan: { least: number; most: number } | null;
  summer_rise: number | null;
  headroom: [number, number][];
}

export interface Mend {
  change: string;
  verdict: "passes" | "fails" | "not checked";
  mass: number | null;
  price: number | null;
  governs: string;
}

export interface Kit {
  shell: Shell;
  parts: Parts;
  brief?: { project?: { name?: string; show?: string } };
  checks?: Check[];
  cutting?: {
    bars: { stock: string; length: number; cuts: { label: string; length: number }[]; offcut: number }[];
    cost: number | null;
    bound: number | null;
    gap: number | null;
    proven: boolean;
    used: number;
    bought: number;
  };
  sequence?: { stages: { name: string; steps: Step[] }[]; props?: { name: string; hub: number }[] };
  site?: {
    pegs?: { hub: number; x: number; y: number; a: string; from_a: number; b: string; from_b: number }[];
    check_diagonals?: { kind: string; i: number; j: number; length: number; band: number }[];
    anchors?: { hub: number; uplift: number; horizontal: number; anchor: string | null; quantity: number }[];
  };
  structure?: { hung_capacity?: { with_dead_load?: (number | null)[] | null } | null; mend?: Mend[] } | null;
  packing?: Packing | null;
  price?: Price | null;
  climate?: Climate | null;
  cover?: Cover | null;
  notes?: Note[];
}

type Vec3 = [number, number, number];

/** A shape that loads give; movements of a buckling shape have no size of their own. */
export interface Shape {
  name: string;
  combination: string;
  factor: number | null;
  struts_bow_at: number | null;
  moved: Vec3[];
}

/** What the 3D view draws of the structure, beside kit.json. */
export interface Picture {
  used: (number | null)[];
  combination: string;
  loads: { action: string; cases: string[]; forces: Vec3[] }[];
  shapes: Shape[];
}

export interface Judged {
  /** Empty while only the kit on the disk is known: the server alone says the verdict. */
  verdict: "" | "passes" | "fails" | "not checked";
  sentence: string;
  kit: Kit;
  diameter: number;
  picture?: Picture;
  /** What to ask next, and of which key; null while it is being weighed. */
  ask?: { key: string; text: string } | null;
}

/** Strut number -> index of its type. */
export function typeOfStrut(parts: Parts, struts: number): Int16Array {
  const of = new Int16Array(struts).fill(-1);
  parts.strut_types.forEach((kind, index) => kind.struts.forEach((s) => (of[s] = index)));
  return of;
}

export function typeOfHub(parts: Parts, hubs: number): Int16Array {
  const of = new Int16Array(hubs).fill(-1);
  parts.hub_types.forEach((kind, index) => kind.hubs.forEach((s) => (of[s] = index)));
  return of;
}

/** Highest utilisation of each strut type; a check speaks for the type of the strut it names. */
export function usedByType(kit: Pick<Kit, "parts" | "shell" | "checks">): (number | null)[] {
  const of = typeOfStrut(kit.parts, kit.shell.struts.length);
  const used: (number | null)[] = kit.parts.strut_types.map(() => null);
  for (const check of kit.checks ?? []) {
    const { kind, index } = check.subject;
    if (kind !== "strut" || index === null || check.utilisation === null) continue;
    const type = of[index] ?? -1;
    if (type >= 0) used[type] = Math.max(used[type] ?? 0, check.utilisation);
  }
  return used;
}

/** All steps in order with the name of their stage. */
export function stepsOf(kit: Kit): { stage: string; step: Step }[] {
  return (kit.sequence?.stages ?? []).flatMap((stage) =>
    stage.steps.map((step) => ({ stage: stage.name, step })),
  );
}

/** Strut and hub number -> index of the step that places it; -1 when none does. */
export function placedAt(kit: Kit): { struts: Int32Array; hubs: Int32Array } {
  const struts = new Int32Array(kit.shell.struts.length).fill(-1);
  const hubs = new Int32Array(kit.shell.hubs.length).fill(-1);
  stepsOf(kit).forEach(({ step }, at) => {
    for (const s of step.struts) if (struts[s] === -1) struts[s] = at;
    for (const n of step.hubs) if (hubs[n] === -1) hubs[n] = at;
  });
  return { struts, hubs };
}

const RANK = { fail: 0, not_checked: 1, pass: 2 } as const;

/** What governs first: failures, then what is required and not made, then by utilisation. */
export function governingFirst(checks: Check[]): Check[] {
  const weight = (check: Check) =>
    RANK[check.status] + (check.required ? 0 : check.status === "fail" ? 0.5 : check.status === "not_checked" ? 1.5 : 0.5);
  return [...checks].sort(
    (a, b) => weight(a) - weight(b) || (b.utilisation ?? -1) - (a.utilisation ?? -1),
  );
}

/** Where a part that was left over belongs: by its label, or by its measured length. */
export function belongs(
  kit: Kit,
  asked: { label?: string; metres?: number },
): { type: StrutType; off: number; steps: number[] }[] {
  const steps = stepsOf(kit);
  return kit.parts.strut_types
    .map((type) => ({
      type,
      off: asked.metres === undefined ? 0 : asked.metres - type.cut_length,
      steps: steps.filter(({ step }) => (step.picks[type.label] ?? 0) > 0).map(({ step }) => step.number),
    }))
    .filter(({ type, off }) =>
      asked.label ? type.label.toLowerCase() === asked.label.toLowerCase() : Math.abs(off) <= 0.03,
    )
    .sort((a, b) => Math.abs(a.off) - Math.abs(b.off));
}

