import type { BenchDefinition } from "../../../core/bench/definitions.ts";
import { BENCH_WORDS } from "../../../core/design/bench-words.ts";
import type { BenchKind } from "../../../core/design/tried.ts";
import { h, s, setText } from "../../../ui/dom.ts";
import { SET_UPS } from "../picture/sketches.ts";
import { SHEET } from "../picture/strokes.ts";

function drawingOf(kind: BenchKind): SVGSVGElement {
  const { strokes, labels } = SET_UPS[kind];
  return s(
    "svg",
    {
      class: "bench-drawing",
      viewBox: `0 0 ${SHEET.width} ${SHEET.height}`,
      role: "img",
      "aria-label": `the set-up: ${BENCH_WORDS[kind]}. ${labels.map((l) => l.words).join(", ")}`,
    },
    ...strokes.map(([look, d]) => s("path", { class: `bs-${look}`, d })),
    ...labels.map((l) => s("text", { class: `bs-text ${l.tone}`, x: l.x, y: l.y, "text-anchor": l.anchor }, l.words)),
  );
}

/** What is done: the set-up as a drawing, the steps, what to watch for and what may go wrong. */
export function createSetUp(): { el: HTMLElement; update(m: BenchDefinition): void } {
  const stage = h("figure", { class: "bench-stage" });
  const view = h("figcaption", { class: "bench-view" });
  const steps = h("ol", { class: "bench-steps" });
  const watch = h("p");
  const caution = h("p", { class: "bench-caution" });
  const el = h(
    "div",
    { class: "bench-how" },
    stage,
    h(
      "section",
      { class: "bench-what", "aria-label": "how it is done" },
      h("h3", {}, "How it is done"),
      steps,
      h("h4", {}, "Watch for"),
      watch,
      h("h4", {}, "Caution"),
      caution,
    ),
  );
  let shown: BenchKind | null = null;
  return {
    el,
    update(m) {
      if (shown === m.kind) return;
      shown = m.kind;
      setText(view, `seen ${SET_UPS[m.kind].view}; hatched: held fast`);
      stage.replaceChildren(drawingOf(m.kind), view);
      steps.replaceChildren(...m.steps.map((words) => h("li", {}, words)));
      setText(watch, m.watch);
      setText(caution, m.caution);
    },
  };
}
