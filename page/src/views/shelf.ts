/** The shelf: briefs in the folder, new ones, putting away and back, two to compare. */

import { api, type Demo, type Listed } from "../api";
import { announce, fill, h } from "../dom";

const slug = (title: string): string =>
  title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 48) || "brief";

export async function shelf(main: HTMLElement): Promise<void> {
  document.title = "Shelf – strutwright";
  const [held, demos, away] = await Promise.all([api.shelf(), api.demos(), api.archive()]);
  const again = () => shelf(main);
  const note = h("p", { class: "note", hidden: true });
  const said = (text: string, undo?: () => Promise<unknown>) => {
    announce(text);
    note.hidden = false;
    fill(note, text, " ", undo ? h("button", { type: "button", onClick: () => undo().then(again) }, "Undo") : null);
  };
  fill(
    main,
    h("h1", {}, "Shelf"),
    h("p", { class: "help" }, `Folder ${held.folder}: plain files that the command line reads too.`),
    note,
    held.briefs.length ? rows(held.briefs, said, again) : h("p", {}, "No brief yet. Begin from one below."),
    newBrief(demos, held.briefs),
    away.briefs.length
      ? h(
          "details",
          {},
          h("summary", {}, `Put away (${away.briefs.length})`),
          h("ul", { class: "plain" }, away.briefs.map((one) =>
            h("li", {}, one.title, " ", h("button", { type: "button", "aria-label": `Put back ${one.title}`, onClick: () => api.putBack(one.name).then(again, (error: Error) => said(error.message)) }, "Put back")),
          )),
        )
      : null,
  );
}

type Said = (text: string, undo?: () => Promise<unknown>) => void;

function rows(briefs: Listed[], said: Said, again: () => Promise<void>): HTMLElement {
  const chosen = new Set<string>();
  const compare = h("button", { type: "button", disabled: true, onClick: () => {
    location.hash = `#/compare/${[...chosen].map(encodeURIComponent).join("/")}`;
  } }, "Compare the two chosen");
  const choose = (name: string, on: boolean) => {
    if (on) chosen.add(name);
    else chosen.delete(name);
    compare.disabled = chosen.size !== 2;
  };
  return h(
    "div",
    {},
    h("ul", { class: "shelf" }, briefs.map((one) =>
      h(
        "li",
        {},
        h("input", { type: "checkbox", "aria-label": `Choose ${one.title} to compare`, onChange: (event: Event) => choose(one.name, (event.target as HTMLInputElement).checked) }),
        h("div", { class: "grow" },
          h("a", { href: `#/b/${encodeURIComponent(one.name)}` }, one.title),
          h("p", { class: "help" }, [one.use, [one.width, one.length].filter(Boolean).join(" × "), `${one.name}.toml`,
            one.kit === "fresh" ? "kit built" : one.kit === "older" ? "kit is of an older text" : ""].filter(Boolean).join(" · "))),
        h("button", { type: "button", "aria-label": `Duplicate ${one.title}`, onClick: () => duplicate(one, briefs, said, again) }, "Duplicate"),
        h("button", { type: "button", "aria-label": `Put away ${one.title}`, onClick: () =>
          api.putAway(one.name).then(again).then(() => undefined, (error: Error) => said(error.message)) }, "Put away"),
      ),
    )),
    compare,
  );
}

async function duplicate(one: Listed, briefs: Listed[], said: Said, again: () => Promise<void>): Promise<void> {
  const taken = new Set(briefs.map((other) => other.name));
  let number = 2;
  while (taken.has(`${one.name}-${number}`)) number += 1;
  try {
    await api.make(`${one.name}-${number}`, `brief:${one.name}`);
    await again();
  } catch (error) {
    said(String(error));
  }
}

function newBrief(demos: Demo[], briefs: Listed[]): HTMLElement {
  const problem = h("p", { class: "problem", role: "alert", hidden: true });
  const source = h("select", { id: "new-source" },
    h("option", { value: "starter" }, "The starter: a 6 m dome, every section explained"),
    demos.map((demo) => h("option", { value: `demo:${demo.id}` }, demo.title)));
  const name = h("input", { id: "new-name", type: "text", placeholder: "such as north-field" });
  const about = h("p", { class: "help", id: "new-about" });
  source.addEventListener("change", () => {
    about.textContent = demos.find((demo) => `demo:${demo.id}` === source.value)?.about ?? "";
  });
  const make = async (event: Event) => {
    event.preventDefault();
    const taken = new Set(briefs.map((one) => one.name));
    let wanted = name.value.trim() || slug(source.value.replace(/^demo:/, ""));
    if (!name.value.trim()) {
      const plain = wanted;
      for (let k = 2; taken.has(wanted); k++) wanted = `${plain}-${k}`;
    }
    try {
      const made = await api.make(wanted, source.value);
      location.hash = `#/b/${encodeURIComponent(made.name)}`;
    } catch (error) {
      problem.hidden = false;
      problem.textContent = (error as Error).message;
    }
  };
  return h(
    "section",
    { "aria-labelledby": "new-head" },
    h("h2", { id: "new-head" }, "New brief"),
    h("form", { class: "inline", onSubmit: make },
      h("div", { class: "field" }, h("label", { for: "new-source" }, "Begin from"), source, about),
      h("div", { class: "field" }, h("label", { for: "new-name" }, "File name"), name),
      h("button", { type: "submit", class: "strong" }, "Make it")),
    problem,
  );
}
