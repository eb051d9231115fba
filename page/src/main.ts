/** The page's frame: where we are, and what is shown there. */

import { fill, h } from "./dom";
import * as theme from "./theme";
import { brief, type Open } from "./views/brief";
import { compare } from "./views/compare";
import { shelf } from "./views/shelf";

const main = h("main", { id: "main", tabindex: -1 });
let open: Open | null = null;
let opened = "";

async function show(): Promise<void> {
  const [place = "", ...parts] = location.hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  const [first = "", second = "", third = ""] = parts;
  if (place === "b" && open && opened === first) return open.go(second, third);
  open?.close();
  open = null;
  opened = "";
  document.body.dataset["place"] = place || "shelf";
  delete document.body.dataset["tab"];
  fill(main, h("p", { role: "status" }, "Loading …"));
  try {
    if (place === "b" && first) {
      opened = first;
      open = await brief(main, first, second, third);
    } else if (place === "compare" && second) await compare(main, first, second);
    else await shelf(main);
  } catch (error) {
    fill(main, h("h1", {}, "That did not work"), h("p", { class: "problem", role: "alert" }, (error as Error).message), h("a", { href: "#/" }, "Back to the shelf"));
  }
}

function frame(): void {
  const root = document.getElementById("root");
  if (!root) return;
  root.append(
    h("header", { class: "top" },
      h("a", { href: "#/", class: "name" }, h("img", { src: "/mark.svg", alt: "", width: 24, height: 24 }), "strutwright"),
      h("button", { type: "button", onClick: () => theme.swap() }, "Light or dark")),
    main,
    h("footer", {}, "Preliminary engineering, never a certificate."),
  );
}

theme.begin();
frame();
window.addEventListener("hashchange", () => void show());
void show();
if ("serviceWorker" in navigator) void navigator.serviceWorker.register("/sw.js").catch(() => undefined);
