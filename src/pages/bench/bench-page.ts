import "./styles/bench.css";
import "./styles/set-up.css";
import "./styles/table.css";
import "./styles/fit.css";
import "./styles/runs.css";
import type { Store } from "../../state/store.ts";
import { h, setAttr } from "../../ui/dom.ts";
import type { PageHelp } from "../../ui/page.ts";
import { createRunsPart } from "./runs-part.ts";
import { benchSlice } from "./state/slice.ts";
import { createTestsPart } from "./tests-part.ts";

export interface BenchPage {
  show(region: HTMLElement): void;
  update(): void;
}

const PARTS = { tests: "Bench tests", runs: "Runs" } as const;

/** The bench: what was measured of the parts, and what was driven with them. */
export function createBenchPage(store: Store, help: PageHelp): BenchPage {
  const parts = { tests: createTestsPart(store, help), runs: createRunsPart(store, help) };
  const setView = (patch: Parameters<typeof benchSlice.patched>[1]): void => store.setView(benchSlice.patched(store.get().view, patch));
  const choices = Object.entries(PARTS).map(([key, words]) =>
    h("button", { type: "button", class: "bench-part", "data-part": key, onclick: () => setView({ part: key as keyof typeof PARTS }) }, words),
  );
  const toList = h("button", {
    type: "button",
    class: "link bench-to-list",
    "data-act": "bench-list",
    onclick: () => setView({ kind: null, run: null }),
  });
  const rail = h(
    "div",
    { class: "bench-rail" },
    h("h1", {}, "Bench"),
    h("div", { class: "bench-parts", role: "group", "aria-label": "parts of the bench" }, ...choices),
    toList,
    parts.tests.list,
    parts.runs.list,
  );
  const root = h("div", { class: "bench" }, rail, parts.tests.el, parts.runs.el);

  function update(): void {
    const view = benchSlice.of(store.get().view);
    for (const [key, part] of Object.entries(parts)) {
      const shown = key === view.part;
      part.el.hidden = !shown;
      part.list.hidden = !shown;
      if (shown) part.update();
    }
    for (const b of choices) setAttr(b, "aria-pressed", String(b.dataset.part === view.part));
    // where there is room for one of them alone, the list gives way to what is open
    const opened = view.part === "tests" ? view.kind !== null : view.run !== null;
    root.classList.toggle("opened", opened);
    toList.textContent = view.part === "tests" ? "all bench tests" : "all runs";
  }

  return {
    show(region) {
      region.append(root);
      update();
    },
    update,
  };
}
