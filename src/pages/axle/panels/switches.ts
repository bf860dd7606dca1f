import { h, setAttr, setText } from "../../../ui/dom.ts";
import type { ShowOptions } from "../../../view/scene.ts";

const CHECKS: { key: Exclude<keyof ShowOptions, "bend">; words: string; title: string }[] = [
  { key: "forces", words: "forces", title: "what pushes, what the road answers, what the springs carry; one scale for all" },
  { key: "armForces", words: "arm forces", title: "force along each arm" },
  { key: "rollCentre", words: "roll centre", title: "instant centres and roll centre with their construction lines" },
  { key: "leanByPart", words: "lean by part", title: "the arc over each wheel cut into the steps of the stair" },
  { key: "designB", words: "design B", title: "design B under the same load, dashed" },
  { key: "fit", words: "body fit", title: "outlines and boxes of a body that must not change, to edit; the swept tyre and arms, and the tightest place" },
  { key: "unloaded", words: "unloaded", title: "where everything stands without cornering and bumps" },
];

export interface Switches {
  update(show: ShowOptions): void;
}

/** One row at the foot of the drawing: what is drawn, and how many times the bend is drawn larger. */
export function createSwitches(root: HTMLElement, change: (patch: Partial<ShowOptions>) => void, fitView: () => void): Switches {
  const boxes = CHECKS.map((c) => {
    const input = h("input", { type: "checkbox", "data-show": c.key, onchange: (e: Event) => change({ [c.key]: (e.target as HTMLInputElement).checked }) });
    root.append(h("label", { class: "check", title: c.title }, input, c.words));
    return { key: c.key, input };
  });
  const bends = ([1, 3, 10] as const).map((n) =>
    h(
      "button",
      {
        type: "button",
        class: "word-switch",
        "data-bend": n,
        title: n === 1 ? "bend drawn true" : `bend drawn ${n} times larger; pins, hub and wheel stay true`,
        onclick: () => change({ bend: n }),
      },
      `×${n}`,
    ),
  );
  const turn = (): void => {
    const open = root.classList.toggle("open");
    word.setAttribute("aria-expanded", String(open));
    setText(word, open ? "done" : "show");
  };
  const word = h("button", { type: "button", class: "show-word", "aria-expanded": "false", onclick: () => turn() }, "show");
  setText(word, "show");
  root.append(
    word,
    h("span", { class: "bend", role: "group", "aria-label": "bend drawn larger" }, "bend", ...bends),
    h("button", { type: "button", class: "word-switch fit", title: "show the whole car (or double-press the sheet)", onclick: fitView }, "fit"),
  );
  return {
    update(show) {
      for (const b of boxes) b.input.checked = show[b.key] ?? false;
      for (const b of bends) setAttr(b, "aria-pressed", String(b.dataset.bend === String(show.bend)));
    },
  };
}
