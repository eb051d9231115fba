/** One brief that is open: its text, what is wrong with it, its shape, its verdict. */

import { api, follow, Offline, Refused, type Change, type Conflict, type Job, type Problem, type Sketch } from "./api";
import type { Drawn, Judged, Kit, Note } from "./kit";
import type { System } from "./units";

export type Values = Record<string, unknown>;
type What = "text" | "shape" | "judged" | "job" | "saved" | "said";

const THICK = 0.03; // m; struts of a kit that is looked at without the server, in the picture alone
const BUSY = 700; // ms before a busy server is asked for the shape again
const QUIET = 500; // ms without a change before the whole shape and the check are asked for

export class Work {
  text = "";
  savedText = "";
  revision = "";
  values: Values = {};
  problems: Problem[] = [];
  sketch: Sketch | null = null;
  judged: Judged | null = null;
  judgedText = "";
  job: Job | null = null;
  said = "";
  offline = false;
  private past: string[] = [];
  private listeners = new Map<What, (() => void)[]>();
  private drawing: AbortController | null = null;
  private later = 0;
  private turn: Promise<void> = Promise.resolve();
  private dragged: Change[] | null = null;

  constructor(readonly name: string) {}

  on(what: What, told: () => void): void {
    this.listeners.set(what, [...(this.listeners.get(what) ?? []), told]);
  }

  private tell(...what: What[]): void {
    for (const one of what) for (const told of this.listeners.get(one) ?? []) told();
  }

  get system(): System {
    const project = this.values["project"] as { show?: string } | undefined;
    return project?.show === "imperial" || project?.show === "both" ? project.show : "metric";
  }

  get changed(): boolean {
    return this.text !== this.savedText;
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }

  get fresh(): Judged | null {
    return this.judged && this.judgedText === this.text ? this.judged : null;
  }

  get shown(): Drawn | null {
    const held = this.fresh ?? (this.sketch ? null : this.judged);
    return held ? this.drawnOf(held) : this.sketch;
  }

  drawnOf(judged: Judged): Drawn {
    return { ...judged.kit, diameter: judged.diameter || this.sketch?.diameter || THICK };
  }

  get kit(): Kit | null {
    return this.judged?.kit ?? null;
  }

  get notes(): Note[] {
    return this.fresh?.kit.notes ?? this.sketch?.notes ?? [];
  }

  async open(): Promise<void> {
    const held = await api.read(this.name);
    [this.text, this.savedText, this.revision] = [held.text, held.text, held.revision];
    const kept = draftOf(this.name);
    if (kept && kept.revision === held.revision && kept.text !== held.text) {
      this.text = kept.text;
      this.say("Changes that were not saved last time are here again. Undo takes them back.");
      this.past.push(held.text);
    }
    await this.readKit();
    await this.change([], false);
  }

  /** Take the kit that lies beside the brief, when it is of this very text. */
  private async readKit(): Promise<void> {
    const kept = await keptOf(this.name);
    if (kept?.text === this.savedText) {
      [this.judged, this.judgedText] = [kept.judged, kept.text];
      return;
    }
    try {
      const kit = await api.kit(this.name);
      if (!kit.fresh) return;
      const data = await api.kitJson(this.name);
      this.judged = { verdict: "", sentence: "The verdict is being worked out.", kit: data, diameter: 0 };
      this.judgedText = this.savedText;
    } catch (error) {
      if (error instanceof Offline) this.offline = true;
      // there is no kit yet: the sketch is drawn
    }
  }

  say(text: string): void {
    this.said = text;
    this.tell("said");
  }

  get isWorking(): boolean {
    return this.job?.state === "working" || this.job?.state === "waiting";
  }

  /** Change keys; while something is dragged only the quick shape is asked for. */
  change(changes: Change[], dragging: boolean): Promise<void> {
    if (dragging) return this.drag(changes);
    this.dragged = null; // what was dragged is let go: only where it ends counts
    return this.queue(changes, false);
  }

  /** Drags are answered one at a time; those that come meanwhile are one, the latest. */
  private drag(changes: Change[]): Promise<void> {
    const isWaiting = this.dragged !== null;
    this.dragged = later(this.dragged ?? [], changes);
    if (isWaiting) return this.turn;
    this.turn = this.turn.then(async () => {
      const latest = this.dragged;
      this.dragged = null;
      if (latest) await this.apply(latest, true);
    }).catch((error: unknown) => this.fault(error));
    return this.turn;
  }

  private queue(changes: Change[], dragging: boolean): Promise<void> {
    this.turn = this.turn.then(() => this.apply(changes, dragging)).catch((error: unknown) => this.fault(error));
    return this.turn;
  }

  private async apply(changes: Change[], dragging: boolean): Promise<void> {
    const before = this.text;
    // the shape is asked for with the change, not after it: half the wait
    const early = dragging ? api.shape(before, false, changes).catch(() => null) : null;
    const edited = await api.edit(this.text, changes);
    this.offline = false;
    this.text = edited.text;
    this.values = edited.values;
    this.problems = edited.problems;
    if (before !== this.text) {
      if (!dragging || this.past[this.past.length - 1] === undefined) this.past.push(before);
      keepDraft(this.name, this.text, this.revision);
    }
    this.tell("text");
    if (this.problems.length > 0) return;
    if (early) this.showEarly(await early);
    this.draw(dragging, early !== null && this.sketch !== null);
  }

  private showEarly(sketch: Sketch | null): void {
    if (!sketch) return;
    this.sketch = sketch;
    this.tell("shape");
  }

  /** Replace the whole text, as typed in the text view. */
  async replace(text: string): Promise<void> {
    this.past.push(this.text);
    this.text = text;
    keepDraft(this.name, text, this.revision);
    await this.change([], false);
  }

  async undo(): Promise<void> {
    const before = this.past.pop();
    if (before === undefined) return;
    this.text = before;
    keepDraft(this.name, this.text, this.revision);
    await this.change([], false);
  }

  private draw(dragging: boolean, isDrawn = false): void {
    this.drawing?.abort();
    const drawing = new AbortController();
    this.drawing = drawing;
    window.clearTimeout(this.later);
    const text = this.text;
    if (!isDrawn) void this.sketchOf(text, !dragging, drawing.signal);
    if (this.fresh && this.job?.state === "done") return this.tell("judged");
    this.later = window.setTimeout(() => {
      if (dragging) void this.sketchOf(text, true, drawing.signal);
      void this.judge();
    }, dragging ? QUIET : 50);
  }

  private async sketchOf(text: string, openings: boolean, signal: AbortSignal): Promise<void> {
    try {
      const sketch = await api.shape(text, openings, [], signal);
      if (signal.aborted || text !== this.text) return;
      this.sketch = sketch;
      this.tell("shape");
    } catch (error) {
      if (signal.aborted) return;
      if (error instanceof Refused && error.status === 503) {
        await new Promise((later) => window.setTimeout(later, BUSY));
        if (!signal.aborted) await this.sketchOf(text, openings, signal);
      } else this.fault(error);
    }
  }

  /** Work out loads, structure, cutting and steps in the background. */
  async judge(): Promise<void> {
    const text = this.text;
    if (this.isWorking) await this.stop();
    try {
      const job = await api.begin("check", this.name, text);
      const over = await this.followed(job, () => void this.partly(job.id, text));
      if (this.job?.id === over.id && over.state === "done" && text === this.text) {
        this.take(await api.result(over.id), text);
      }
    } catch (error) {
      this.fault(error);
    }
  }

  /** The verdict is known before all is: show it. */
  private async partly(id: string, text: string): Promise<void> {
    const judged = await api.result(id).catch(() => null);
    if (judged && text === this.text && this.job?.id === id && this.job.state === "working") this.take(judged, text);
  }

  private take(judged: Judged, text: string): void {
    [this.judged, this.judgedText] = [judged, text];
    keep(this.name, { text, judged });
    this.tell("judged", "shape");
  }

  /** Save, then write the kit folder beside the brief. */
  async build(): Promise<boolean> {
    if (this.changed && !(await this.save())) return false;
    try {
      const over = await this.followed(await api.begin("kit", this.name));
      if (over.state !== "done") return false;
      this.take(await api.result(over.id), this.savedText);
      return true;
    } catch (error) {
      this.fault(error);
      return false;
    }
  }

  private async followed(job: Job, partly: () => void = () => {}): Promise<Job> {
    this.job = job;
    this.tell("job");
    let answers = 0;
    const over = await follow(job.id, (state) => {
      if (this.job?.id !== state.id) return;
      this.job = state;
      this.tell("job");
      if (state.answers > answers && state.state === "working") partly();
      answers = state.answers;
    });
    if (over.state === "refused" && over.kind === "check") this.problems = over.problems;
    if (over.state === "refused") {
      this.say(over.problems.map((one) => `${one.what} – ${one.mend}`).join("; "));
      this.tell("text");
    }
    return over;
  }

  async stop(): Promise<void> {
    const job = this.job;
    this.job = null; // another window may want it to go on: here it is over
    this.tell("job");
    if (job && (job.state === "working" || job.state === "waiting")) await api.stop(job.id).catch(() => undefined);
  }

  conflict: Conflict | null = null;

  /** Save over the revision that was opened; false when it was changed meanwhile. */
  async save(over?: { text: string; revision: string }): Promise<boolean> {
    const text = over?.text ?? this.text;
    try {
      const held = await api.save(this.name, text, over?.revision ?? this.revision);
      this.conflict = null;
      this.revision = held.revision;
      this.savedText = held.text;
      keepDraft(this.name, null, "");
      if (this.text !== held.text) {
        this.past.push(this.text);
        this.text = held.text;
        void this.change([], false);
      }
      this.say("Saved.");
      this.tell("saved");
      return true;
    } catch (error) {
      if (error instanceof Refused && error.status === 409) {
        this.conflict = error.body as Conflict;
        this.tell("saved");
      } else this.fault(error);
      return false;
    }
  }

  private fault(error: unknown): void {
    if (error instanceof Refused) {
      if (error.problems.some((one) => one.key)) {
        this.problems = error.problems;
        this.tell("text");
      }
      this.say(error.message);
    } else if (error instanceof Offline) {
      this.offline = true;
      this.say(error.message);
    } else this.say(String(error));
  }
}

/** The changes of a drag, a later one in place of an earlier one to the same key. */
export function later(before: Change[], changes: Change[]): Change[] {
  const keys = new Set(changes.map((one) => one.key));
  return [...before.filter((one) => !keys.has(one.key)), ...changes];
}

const KEPT = "strutwright-kits-1";
interface Kept {
  text: string;
  judged: Judged;
}

/** Keep what was worked out, so that the build can be walked where there is no server. */
function keep(name: string, kept: Kept): void {
  if (!("caches" in window)) return;
  void caches
    .open(KEPT)
    .then((store) => store.put(`/kept/${encodeURIComponent(name)}`, new Response(JSON.stringify(kept))))
    .catch(() => undefined);
}

async function keptOf(name: string): Promise<Kept | null> {
  try {
    const store = await caches.open(KEPT);
    const found = await store.match(`/kept/${encodeURIComponent(name)}`);
    return found ? ((await found.json()) as Kept) : null;
  } catch {
    return null;
  }
}

const DRAFT = "strutwright draft ";

function keepDraft(name: string, text: string | null, revision: string): void {
  try {
    if (text === null) localStorage.removeItem(DRAFT + name);
    else localStorage.setItem(DRAFT + name, JSON.stringify({ text, revision }));
  } catch {
    // a browser that keeps nothing: the text lives as long as its window
  }
}

function draftOf(name: string): { text: string; revision: string } | null {
  try {
    return JSON.parse(localStorage.getItem(DRAFT + name) ?? "null") as { text: string; revision: string } | null;
  } catch {
    return null;
  }
}
