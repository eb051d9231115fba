/** A brief that is open: the shell beside its form, checks, parts, steps and files. */

import { api, type Problem } from "../api";
import { announce, fill, h } from "../dom";
import { Form, type Schema } from "../form";
import { showArea, showMass, showSize } from "../units";
import { View3d } from "../view3d";
import { Work } from "../work";
import { merge } from "./merge";
import { survey } from "./survey";
import { hasSupply, priceWords, supply } from "./supply";
import { checks, cutting, files, ground, parts } from "./tables";
import { Walk } from "./walk";

const TABS = [["brief", "Brief"], ["parts", "Parts"], ["checks", "Checks"], ["cutting", "Cutting"], ["ground", "Ground"], ["walk", "Build"], ["more", "Cover, parcels, price"], ["survey", "Survey"], ["text", "Text"], ["files", "Files"]] as const;
type Tab = (typeof TABS)[number][0];

export interface Open {
  close: () => void;
  go: (tab: string, rest: string) => void;
}

export async function brief(main: HTMLElement, name: string, first: string, rest: string): Promise<Open> {
  const schema = (await api.schema()) as Schema;
  const page = new Page(main, name, schema);
  await page.work.open();
  page.begin();
  page.go(first, rest);
  return page;
}

class Page implements Open {
  readonly work: Work;
  private readonly view = new View3d();
  private readonly form: Form;
  private tab: Tab = "brief";
  private walk: Walk | null = null;
  private readonly head = h("div", { class: "brief-head" });
  private readonly phone = h("div", { class: "phone", "aria-label": "In short", role: "region" });
  private readonly tabs = h("nav", { class: "tabs", "aria-label": "Pages of this brief" });
  private readonly panel = h("div", { class: "panel" });
  private readonly apart = h("div", { role: "alert" });
  private readonly dialog = h("div", {});
  private readonly keys = (event: KeyboardEvent) => this.key(event);
  private readonly leaving = (event: BeforeUnloadEvent) => {
    if (this.work.changed) event.preventDefault();
  };

  constructor(private readonly main: HTMLElement, readonly name: string, schema: Schema) {
    this.work = new Work(name);
    this.form = new Form(schema, (key, value, dragging = false) => void this.work.change([{ key, value }], dragging));
  }

  begin(): void {
    const { work } = this;
    fill(this.main, this.head, this.phone, this.dialog, h("div", { class: "bench" }, this.view.element, h("div", { class: "side" }, this.tabs, this.panel)));
    work.on("text", () => this.onText());
    work.on("shape", () => this.draw());
    work.on("judged", () => this.onJudged());
    work.on("job", () => { this.showHead(); this.showPhone(); });
    work.on("saved", () => this.onSaved());
    work.on("said", () => { announce(work.said); this.showHead(); });
    document.addEventListener("keydown", this.keys);
    window.addEventListener("beforeunload", this.leaving);
    this.showTabs();
    this.onText();
    this.draw();
  }

  close(): void {
    document.removeEventListener("keydown", this.keys);
    window.removeEventListener("beforeunload", this.leaving);
    void this.work.stop();
  }

  go(tab: string, rest: string): void {
    const known = TABS.map(([key]) => key).find((key) => key === tab) ?? "brief";
    if (known === "walk" && this.tab === "walk" && this.walk) return;
    this.tab = known;
    this.walk = null;
    document.body.dataset["tab"] = known;
    this.showTabs();
    void this.showPanel(rest);
    this.draw();
  }

  private key(event: KeyboardEvent): void {
    if ((event.ctrlKey || event.metaKey) && event.key === "s") {
      event.preventDefault();
      void this.work.save();
    } else if (this.tab === "walk") this.walk?.key(event);
  }

  private draw(): void {
    const { work } = this;
    const judged = this.tab === "brief" || this.tab === "text" ? null : work.judged;
    const shown = judged ? work.drawnOf(judged) : work.shown;
    if (shown) this.view.show(shown, work.fresh?.kit ?? judged?.kit ?? null, (work.fresh ?? judged)?.picture ?? null, work.system);
    if (this.tab !== "walk") this.view.upTo(null);
    this.showPhone();
  }

  private onText(): void {
    if (this.tab === "brief") {
      this.form.show(this.work.values);
      this.showApart(this.form.tell(this.work.problems));
    }
    this.showHead();
    this.showPhone();
  }

  private showApart(problems: Problem[]): void {
    fill(this.apart, problems.map((one) => h("p", { class: "problem" }, `${one.where ? `${one.where}: ` : ""}${one.what}. ${one.mend}`)));
  }

  private onJudged(): void {
    this.showHead();
    this.draw();
    if (this.tab !== "brief" && this.tab !== "text" && this.tab !== "files" && this.tab !== "survey" && this.tab !== "walk") void this.showPanel("");
    if (this.tab === "walk" && !this.walk) void this.showPanel("");
  }

  private onSaved(): void {
    this.showHead();
    const { conflict } = this.work;
    fill(this.dialog, conflict ? merge(conflict, (text, revision) => this.work.save({ text, revision }), () => {
      this.work.conflict = null;
      fill(this.dialog);
    }) : null);
  }

  private showHead(): void {
    const { work } = this;
    const job = work.job;
    const project = work.values["project"] as { name?: string } | undefined;
    const title = project?.name ?? this.name;
    document.title = `${title} – strutwright`;
    fill(this.head,
      h("h1", {}, title),
      h("div", { class: "actions" },
        h("button", { type: "button", class: "strong", disabled: !work.changed, onClick: () => void work.save() }, "Save"),
        h("button", { type: "button", disabled: !work.canUndo, onClick: () => void work.undo() }, "Undo"),
        h("span", { class: "state" }, work.offline ? "no server: reading only" : work.changed ? "not saved" : "saved")),
      job && work.isWorking ? h("div", { class: "job" },
        h("progress", { max: 1, value: job.fraction, "aria-label": `Working: ${job.stage}` }),
        h("span", {}, job.state === "waiting" ? "waiting" : job.stage),
        h("button", { type: "button", onClick: () => void work.stop() }, "Stop")) : null,
      work.said ? h("p", { class: "said" }, work.said) : null);
  }

  /** What a customer on the phone wants to hear. */
  private showPhone(): void {
    const { work } = this;
    const shown = work.shown;
    if (!shown) return fill(this.phone);
    const { shell, parts: made } = shown;
    const fresh = work.fresh;
    const cost = priceWords(fresh?.kit.price);
    const ask = fresh?.ask ?? null;
    const weighing = fresh?.verdict && fresh.ask === null && work.isWorking;
    const size = Math.abs(shell.width - shell.length) < 1e-6 ? showSize(shell.width, work.system) : `${showSize(shell.width, work.system)} × ${showSize(shell.length, work.system)}`;
    const fact = (label: string, value: string) => h("div", { class: "fact" }, h("span", { class: "fact-name" }, label), h("span", { class: "fact-value" }, value));
    const verdict = fresh ? { "": "being worked out", passes: "Passes", fails: "FAILS", "not checked": "NOT CHECKED" }[fresh.verdict] : "being worked out";
    const doors = work.sketch && !work.sketch.openings_made && !fresh ? " (doors not yet cut)" : "";
    fill(this.phone,
      fact("Span", size), fact("Height", showSize(shell.rise, work.system)), fact("Floor", showArea(shell.floor_area, work.system)),
      fact("Struts", `${shell.struts.length}${doors}`), fact("Strut types", `${made.strut_types.length}`), fact("Hubs", `${shell.hubs.length}`),
      fact("Mass", showMass(made.mass, work.system)),
      cost ? fact("Price", cost) : null,
      fact("Verdict", work.problems.length ? "the brief has problems" : verdict),
      ask ? h("p", { class: "ask" }, h("strong", {}, ask.key ? "Ask next: " : "Left open: "), ask.text)
        : weighing ? h("p", { class: "ask" }, "What to ask next is being weighed.") : null);
  }

  private showTabs(): void {
    const kit = this.work.kit;
    fill(this.tabs, TABS.filter(([key]) => key !== "more" || (kit && hasSupply(kit))).map(([key, text]) =>
      h("a", { href: `#/b/${encodeURIComponent(this.name)}/${key}`, "aria-current": key === this.tab ? "page" : undefined }, text)));
  }

  private async showPanel(rest: string): Promise<void> {
    const { work, tab } = this;
    if (tab === "brief") {
      fill(this.panel, this.apart, this.form.element);
      return this.onText();
    }
    if (tab === "text") return fill(this.panel, this.textView());
    if (tab === "survey") {
      return fill(this.panel, survey(this.name, () => work.text, work.system, (struts, hub) => {
        this.view.mark(struts.length ? struts : null);
        if (hub !== null) this.view.pickedAt({ kind: "hub", index: hub });
      }));
    }
    if (tab === "files") return fill(this.panel, await files(this.name, () => work.build()));
    const mark = (struts: number[] | null) => this.view.mark(struts);
    if (tab === "parts" && work.shown) return fill(this.panel, parts(work.shown.parts, work.fresh?.kit ?? null, work.system, mark));
    const judged = work.judged;
    if (!judged) return fill(this.panel, h("p", {}, work.problems.length ? "The brief has problems: see its page." : "Being worked out …"));
    const stale = work.fresh ? null : h("p", { class: "note" }, "This is of the text before your last change; the new answer is being worked out.");
    fill(this.panel, stale, this.judgedPage(rest));
    this.showTabs();
  }

  private judgedPage(rest: string): HTMLElement {
    const { work } = this;
    const judged = work.judged!;
    if (this.tab === "checks") {
      return checks(judged.kit, judged.sentence, work.system, (check) => {
        const { kind, index } = check.subject;
        if (index !== null && (kind === "strut" || kind === "hub")) this.view.pickedAt({ kind, index });
      });
    }
    if (this.tab === "cutting") return cutting(judged.kit, work.system);
    if (this.tab === "ground") return ground(judged.kit, work.system);
    if (this.tab === "more") return supply(judged.kit, work.system);
    this.walk = new Walk(judged.kit, work.system, (at) => this.view.upTo(at), (number) => {
      history.replaceState(null, "", `#/b/${encodeURIComponent(this.name)}/walk/${number}`);
    });
    this.walk.go(Number(rest) || 1);
    return this.walk.element;
  }

  private textView(): HTMLElement {
    const area = h("textarea", { id: "whole-text", rows: 30, spellcheck: "false" });
    area.value = this.work.text;
    const found = h("div", { role: "alert" });
    const take = async () => {
      await this.work.replace(area.value);
      fill(found, this.work.problems.map((one) => h("p", { class: "problem" }, `Line ${one.line || "?"}: ${one.what}. ${one.mend}`)));
    };
    return h("div", {}, h("label", { for: "whole-text" }, "The brief as it lies in its file"), area, h("button", { type: "button", onClick: () => void take() }, "Take this text"), found);
  }
}
