import type { LimitName } from "../../../core/analysis.ts";
import type { BenchKind } from "../../../core/design/tried.ts";
import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { limitRow, updateLimit } from "../../../ui/limit-row.ts";
import type { Difference } from "../../../view/differences.ts";
import { degrees, signed } from "../../../view/format.ts";
import type { LimitWhy } from "../../../view/load-path.ts";
import type { CompareRow, Headline, LimitRow, Stair } from "../../../view/reading.ts";
import { showWhy } from "./limit-why.ts";

interface ReadingModel {
  headline: Headline;
  /** how sure the big number is; null: not known */
  sure: { sure: string; range: string } | null;
  b: { number: string } | null;
  bReason: string | null;
  stair: Stair;
  stairKind: "part" | "motion";
  limits: readonly LimitRow[];
  /** the limit that is opened */
  why: LimitWhy | null;
  compare: readonly CompareRow[];
  differences: readonly Difference[];
  /** numbers are not the answer to what is asked: struck out */
  stale: boolean;
}

export interface ReadingHooks {
  setStair(kind: "part" | "motion"): void;
  swap(): void;
  copyAToB(): void;
  hover(part: string | null): void;
  /** opens a limit, or shuts it with null */
  openLimit(key: string | null): void;
  takeFromB(path: string): void;
  /** to the list of single changes, for less lean or for more safe speed */
  whatToChange(aim: "lean" | "speed" | LimitName): void;
  /** the way to a test on the bench */
  toBench(kind: BenchKind): void;
}

export interface Reading {
  update(model: ReadingModel): void;
}

const ROW_H = 20;
/** "6.6°"; a longer number is set smaller, so that what stands beside it keeps its place */
const SHORT = 4;

export function createReading(root: HTMLElement, hooks: ReadingHooks): Reading {
  const title = h("h2", { class: "hero-title" });
  const titleTerm = h("span");
  const titleAside = h("span", { class: "aside-term" }, term("camber", "camber"), ", ", titleTerm);
  const number = h("p", { class: "hero-number" });
  const way = h("li");
  const limit = h("li", { class: "hero-limit" });
  const rival = h("li", { class: "hero-b" });
  const band = h("li", { class: "hero-band" });
  const heroPm = h("b");
  const heroRange = h("span");
  const heroSure = h("p", { class: "hero-sure" }, heroPm, " ", h("span", { class: "hero-range" }, term("band", "90 % range"), " ", heroRange));
  const mini = s(
    "svg",
    { viewBox: "0 0 100 66", width: 100, height: 66, "aria-hidden": "true" },
    s("path", { class: "mini-zero" }),
    s("path", { class: "mini-bars" }),
  );
  const stairMini = h("p", { class: "stair-mini" });
  const hero = h(
    "section",
    { class: "hero" },
    h("div", { class: "head-row" }, title, titleAside),
    h("div", { class: "hero-row" }, number, h("ul", { class: "hero-list" }, way, limit, rival, band), h("div", { class: "hero-stair" }, mini, stairMini)),
    heroSure,
  );

  const toChange = (aim: "lean" | "speed", words: string): HTMLElement =>
    h("p", { class: "to-change" }, h("button", { type: "button", class: "link", "data-change-for": aim, onclick: () => hooks.whatToChange(aim) }, words));
  const stairSvg = s("svg", { class: "stair-bars", "aria-hidden": "true" });
  const stairGrid = s("path", { class: "stair-grid" });
  const stairBars = s("g");
  stairSvg.append(stairGrid, stairBars);
  const stairRows = h("ol", { class: "stair-rows" });
  const stairSum = h("b");
  const kinds = (["part", "motion"] as const).map((k) =>
    h("button", { type: "button", class: "word-switch", "data-stair": k, onclick: () => hooks.setStair(k) }, k === "part" ? "by part" : "by motion"),
  );
  const stair = h(
    "section",
    { class: "stair" },
    h("div", { class: "head-row" }, h("h2", {}, term("camberBudget", "Why the wheel leans")), h("span", { class: "aside-term" }, ...kinds)),
    h("div", { class: "stair-body" }, stairRows, stairSvg),
    h("p", { class: "stair-sum" }, h("b", {}, "together"), stairSum),
    toChange("lean", "what to change first, for less lean"),
  );

  const limitList = h("ol", { class: "limit-list" });
  const limits = h(
    "section",
    { class: "limits" },
    h("div", { class: "head-row" }, h("h2", {}, term("utilization", "What gives first")), h("span", { class: "aside-term" }, "load of what it can take")),
    limitList,
    toChange("speed", "what to change first, to go faster"),
  );

  const compareBody = h("tbody");
  const differenceSummary = h("summary");
  const differenceList = h("ul", { class: "differences" });
  const reason = h("p", { class: "b-reason", hidden: true });
  const compare = h(
    "section",
    { class: "compare" },
    h(
      "table",
      {},
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          h("th", { scope: "col", class: "table-head" }, h("span", { class: "h2" }, "A against B")),
          h("th", { scope: "col" }, "A"),
          h("th", { scope: "col", class: "b" }, "B"),
          h("th", { scope: "col", class: "aside-term" }, "B changes"),
        ),
      ),
      compareBody,
    ),
    reason,
    h("details", { class: "difference-box" }, differenceSummary, differenceList),
    h(
      "p",
      { class: "compare-acts" },
      h("button", { type: "button", class: "link", "data-act": "swap", onclick: () => hooks.swap() }, "swap A and B"),
      h("button", { type: "button", class: "link", "data-act": "copy", onclick: () => hooks.copyAToB() }, "copy A to B"),
    ),
  );
  const caution = h(
    "p",
    { class: "caution" },
    "For models only. Parts fly off at speed: wear eye protection, keep your distance, clear the track. Estimates: test your own parts before you trust a number.",
  );
  root.append(hero, limits, stair, compare, caution);
  root.insertBefore(stair, limits);

  const drawStair = (model: ReadingModel): void => {
    const { steps, low, high } = model.stair;
    const w = 176;
    const padL = 4;
    const padR = 30;
    const span = Math.max(0.5, high - low);
    const x = (v: number): number => padL + ((v - low) / span) * (w - padL - padR);
    const height = steps.length * ROW_H;
    setAttr(stairSvg, "viewBox", `0 0 ${w} ${height}`);
    setAttr(stairSvg, "height", height);
    const every = span > 12 ? 4 : span > 6 ? 2 : 1;
    let grid = "";
    for (let v = Math.ceil(low / every) * every; v <= high; v += every) grid += `M${x(v).toFixed(1)} 0V${height}`;
    setAttr(stairGrid, "d", grid);
    keyed(
      stairBars,
      steps,
      (st) => st.key,
      () => s("g", {}, s("path", { class: "riser" }), s("rect", { height: 11 }), s("text", { class: "stair-value" })),
      (g, st, i) => {
        const [riser, rect, text] = g.children as unknown as [Element, Element, Element];
        const a = x(st.from);
        const b = x(st.from + st.deg);
        setAttr(g, "transform", `translate(0 ${i * ROW_H})`);
        setAttr(riser, "d", i > 0 ? `M${a.toFixed(1)} -5V15` : "");
        setAttr(rect, "x", Math.min(a, b).toFixed(1));
        setAttr(rect, "y", 4);
        setAttr(rect, "width", Math.max(0.8, Math.abs(b - a)).toFixed(1));
        setAttr(rect, "class", st.hollow ? "hollow" : "full");
        const right = Math.max(a, b) + 5;
        const fits = right + 30 <= w;
        setAttr(text, "x", (fits ? right : Math.min(a, b) - 5).toFixed(1));
        setAttr(text, "text-anchor", fits ? "start" : "end");
        setAttr(text, "y", 14);
        setText(text, signed(st.deg, 1));
      },
    );
    keyed(
      stairRows,
      steps,
      (st) => st.key,
      (st) => h("li", { "data-part": st.key, tabindex: -1, onpointerenter: () => hooks.hover(st.key), onpointerleave: () => hooks.hover(null) }),
      (li, st) => {
        const per = st.per1Percent;
        li.title = per === null || Math.abs(per) < 5e-5 ? "" : `made 1 % stiffer: ${signed(per, 4)}°`;
        li.classList.toggle("hollow", st.hollow);
        setText(li, st.words);
        setAttr(li, "aria-label", `${st.words} ${signed(st.deg, 1)} degrees`);
      },
    );
    setText(stairSum, degrees(model.stair.total));
    const mx = (v: number): number => 2 + ((v - low) / span) * 96;
    const rows = steps.filter((st) => !st.hollow).slice(0, 5);
    setAttr(mini.children[0] as Element, "d", `M${mx(0).toFixed(1)} 0V66`);
    setAttr(
      mini.children[1] as Element,
      "d",
      rows.map((st, i) => `M${mx(st.from).toFixed(1)} ${i * 13}H${mx(st.from + st.deg).toFixed(1)}v10H${mx(st.from).toFixed(1)}Z`).join(""),
    );
    const most = [...steps].filter((st) => !st.hollow).sort((p, q) => Math.abs(q.deg) - Math.abs(p.deg))[0];
    setText(stairMini, most ? `${most.words} most` : "");
  };

  return {
    update(model) {
      root.classList.toggle("stale", model.stale);
      setText(title, model.headline.title);
      setText(titleTerm, `${model.headline.side} wheel`);
      setText(number, model.headline.number);
      setAttr(number, "data-long", model.headline.number.length > SHORT ? "" : null);
      setText(way, model.headline.way);
      heroSure.classList.toggle("off", !model.sure);
      setText(heroPm, model.sure?.sure ?? "");
      setText(heroRange, model.sure?.range ?? "");
      setText(limit, model.headline.limit);
      limit.classList.toggle("past", model.headline.past);
      setText(rival, model.b ? `B leans ${model.b.number}` : "");
      rival.hidden = !model.b;
      setText(band, model.headline.band ?? "");
      band.hidden = !model.headline.band;
      for (const k of kinds) setAttr(k, "aria-pressed", String(k.getAttribute("data-stair") === model.stairKind));
      drawStair(model);
      keyed(
        limitList,
        model.limits,
        (l) => l.key,
        (l) => limitRow(l, hooks),
        (li, l) => {
          updateLimit(li, l);
          showWhy(li, l, model.why?.key === l.key ? model.why : null, hooks);
        },
      );
      keyed(
        compareBody,
        model.compare,
        (r) => r.what.replace(/[\d.]+ m/, "m"),
        () => h("tr", {}, h("th", { scope: "row" }), h("td"), h("td", { class: "b" }), h("td")),
        (tr, r) => {
          const [what, a, b, change] = tr.children as unknown as [Element, Element, Element, Element];
          setText(what, r.what);
          setText(a, r.a);
          setText(b, r.b);
          setText(change, r.change);
        },
      );
      setText(reason, model.bReason ? `B has no answer here: ${model.bReason}` : "");
      reason.hidden = !model.bReason;
      setText(
        differenceSummary,
        model.differences.length === 0
          ? "A and B are the same car"
          : `${model.differences.length} ${model.differences.length === 1 ? "value differs" : "values differ"}`,
      );
      keyed(
        differenceList,
        model.differences.slice(0, 80),
        (d) => d.path,
        (d) =>
          h(
            "li",
            {},
            h("span", { class: "d-name" }),
            h(
              "span",
              { class: "d-values" },
              h("b"),
              h("b", { class: "b" }),
              h("button", { type: "button", class: "link", onclick: () => hooks.takeFromB(d.path) }, "take B's"),
            ),
          ),
        (li, d) => {
          const [name, values] = li.children as unknown as [Element, Element];
          const [a, b, button] = values.children as unknown as [Element, Element, Element];
          setText(name, d.name);
          setText(a, d.aWords);
          setText(b, d.bWords);
          setAttr(button, "aria-label", `take B's ${d.name}`);
        },
      );
    },
  };
}
