/** The server's JSON API; types are generated from its OpenAPI description. */

import type { components } from "./api-types";
import type { Drawn, Judged, Kit, Note } from "./kit";

type Models = components["schemas"];
export type Listed = Models["ListedModel"];
export type Demo = Models["DemoModel"];
export type Brief = Models["BriefModel"];
export type Problem = Models["ProblemModel"];
export type Edited = Models["EditModel"];
export type Job = Models["JobModel"];
export type KitFiles = Models["KitModel"];
export type Conflict = Models["ConflictModel"];
export type Change = { key: string; value: unknown };
export type Sketch = Drawn & { openings_made: boolean; notes: Note[] };

export interface Surveyed {
  shape: [number, number, number][];
  suspects: { hypothesis: string; struts: number[]; hubs: number[]; probability: number; look: string }[];
  corrections: { hub: number; dx: number; dy: number; dz: number; order?: number }[];
  spread: number;
  next_reading: { kind: string; hubs: number[]; expected: number; why: string } | null;
  cannot_know: string[];
  joints?: {
    verdict: "within" | "softer" | "stiffer";
    verdict_before?: string;
    verdict_after?: string;
    sinks: { line: number; hub: number; load: number | null; measured: number; fitted: number }[];
    checks?: { code: string; before: number | null; after: number | null }[];
    notes: Note[];
  };
  readings: { line: number; kind: string; hubs: number[]; measured: number; design: number; residual: number; standardised: number | null }[];
  notes: Note[];
}

export interface ProofLoad {
  hub: number;
  load: number;
  first: number;
  allowed: number;
  sink: number;
  low: number;
  high: number;
  sigma: number;
  temperature: number;
  notes: Note[];
}

export const API = "/api/v1";

/** The server said no, and why. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problems: Problem[],
    readonly body: unknown,
  ) {
    super(problems.map((one) => [one.what, one.mend].filter(Boolean).join(" – ")).join("; ") || `answer ${status}`);
  }
}

/** The server cannot be reached. */
export class Offline extends Error {}

async function ask<T>(method: string, path: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  const headers: Record<string, string> = { "X-Strutwright": "1" };
  if (body !== undefined) headers["Content-Type"] = "application/json";
  const init: RequestInit = { method, headers };
  if (body !== undefined) init.body = JSON.stringify(body);
  if (signal) init.signal = signal;
  let answer: Response;
  try {
    answer = await fetch(API + path, init);
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new Offline("The server cannot be reached. What you see goes on working; saving waits.");
  }
  const data: unknown = await answer.json().catch(() => null);
  if (!answer.ok) {
    const problems = (data as { problems?: Problem[] } | null)?.problems ?? [];
    throw new Refused(answer.status, problems, data);
  }
  return data as T;
}

const part = encodeURIComponent;

export const api = {
  shelf: () => ask<Models["ShelfModel"]>("GET", "/briefs"),
  archive: () => ask<Models["ArchiveModel"]>("GET", "/archive"),
  demos: () => ask<Demo[]>("GET", "/demos"),
  schema: () => ask<Record<string, unknown>>("GET", "/schema/brief"),
  make: (name: string, source: string) => ask<Brief>("POST", "/briefs", { name, source }),
  read: (name: string) => ask<Brief>("GET", `/briefs/${part(name)}`),
  save: (name: string, text: string, revision: string) =>
    ask<Brief>("PUT", `/briefs/${part(name)}`, { text, revision }),
  putAway: (name: string) => ask<Brief>("POST", `/briefs/${part(name)}/archive`),
  putBack: (name: string) => ask<Brief>("POST", `/archive/${part(name)}/restore`),
  edit: (text: string, changes: Change[]) => ask<Edited>("POST", "/edit", { text, changes }),
  shape: (text: string, openings: boolean, changes: Change[] = [], signal?: AbortSignal) =>
    ask<Sketch>("POST", "/shape", { text, openings, changes }, signal),
  begin: (kind: "check" | "kit", name: string, text?: string) =>
    ask<Job>("POST", "/jobs", text === undefined ? { kind, name } : { kind, name, text }),
  stop: (id: string) => ask<Job>("DELETE", `/jobs/${part(id)}`),
  result: (id: string) => ask<Judged>("GET", `/jobs/${part(id)}/result`),
  survey: (text: string, readings: string) => ask<Surveyed>("POST", "/survey", { text, readings }),
  proof: (text: string) => ask<ProofLoad>("POST", "/proof", { text }),
  kit: (name: string) => ask<KitFiles>("GET", `/briefs/${part(name)}/kit`),
  kitJson: (name: string) => ask<Kit>("GET", `/briefs/${part(name)}/kit/kit.json`),
  fileAt: (name: string, path: string) =>
    `${API}/briefs/${part(name)}/kit/${path.split("/").map(part).join("/")}`,
  zipAt: (name: string) => `${API}/briefs/${part(name)}/kit.zip`,
};

/** Follow a job until it is over. */
export function follow(id: string, told: (job: Job) => void): Promise<Job> {
  return new Promise((resolve, reject) => {
    const source = new EventSource(`${API}/jobs/${part(id)}/events`);
    source.onmessage = (event: MessageEvent<string>) => {
      const job = JSON.parse(event.data) as Job;
      told(job);
      if (job.state === "done" || job.state === "refused" || job.state === "cancelled") {
        source.close();
        resolve(job);
      }
    };
    source.onerror = () => {
      if (source.readyState === EventSource.CLOSED) reject(new Offline("The server cannot be reached."));
    };
  });
}
