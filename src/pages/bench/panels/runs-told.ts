import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { setRunsAgainst } from "../../../ui/runs-against.ts";
import { createStopped, type StoppedModel } from "../../../ui/stopped.ts";
import type { RunsToldWords, ToldRow } from "../picture/runs-told.ts";

const WIDE = 240;
const HIGH = 30;

const px = (share: number): string => (share * WIDE).toFixed(1);

/** Two bands of what is known, the one without the runs above, and what each run told as a mark that points where the value lies. */
function draw(svg: SVGSVGElement, { bands, marks, words, before, range }: ToldRow): void {
  const band = (b: ToldRow["bands"]["before"], y: number): string => `M${px(b.low)} ${y}H${px(b.high)}V${y + 7}H${px(b.low)}Z`;
  const post = (b: ToldRow["bands"]["before"], y: number): string => `M${px(b.at)} ${y - 2}V${y + 9}`;
  const mark = ({ at, kind }: ToldRow["marks"][number]): string => {
    const x = Number(px(at));
    if (kind === "exact") return `M${x - 3} 27H${x + 3}M${x} 24V30`;
    const way = kind === "held" ? 5 : -5;
    return `M${x} 23V30M${x} 26.5H${x + way}`;
  };
  setAttr(svg, "aria-label", `${words}: ${before} without the runs, ${range} with them`);
  const [old, now, posts, told] = svg.children as unknown as [Element, Element, Element, Element];
  setAttr(old, "d", band(bands.before, 2));
  setAttr(now, "d", band(bands.after, 13));
  setAttr(posts, "d", post(bands.before, 2) + post(bands.after, 13));
  setAttr(told, "d", marks.map(mark).join(""));
}

/** What the runs tell of the parts, and where runs and model cannot both be right. */
export function createRunsTold(hooks: { take(): void; toMap(): void }): {
  el: HTMLElement;
  stopped(model: StoppedModel | null): void;
  update(m: RunsToldWords | null): void;
} {
  const stopped = createStopped();
  const note = h("p", { class: "bench-told-note", role: "status" });
  const list = h("ul", { class: "bench-told-list" });
  const known = h("p", { class: "aside-term" });
  const others = h("p", { class: "aside-term" });
  const take = h(
    "button",
    { type: "button", class: "bench-turn", "data-act": "take-runs", onclick: () => hooks.take() },
    "Take what the runs tell into the design",
  );
  const against = h("ul", { class: "bench-against" });
  const againstHead = h("h3", {}, "Runs against the model");
  const el = h(
    "section",
    { class: "bench-told-box", "aria-label": "what the runs tell" },
    h("h3", {}, "What the runs tell of the parts"),
    stopped.el,
    note,
    list,
    known,
    others,
    take,
    h(
      "p",
      { class: "aside-term" },
      "The speed map shows each run as a point, and the safe line before and with them. ",
      h("button", { type: "button", class: "link small", "data-act": "runs-on-map", onclick: () => hooks.toMap() }, "see the map"),
    ),
    againstHead,
    against,
  );
  return {
    el,
    stopped: stopped.update,
    update(m) {
      el.hidden = m === null;
      if (!m) return;
      setText(note, m.note);
      note.hidden = m.note === "";
      keyed(
        list,
        m.rows,
        (r) => r.path,
        () =>
          h(
            "li",
            {},
            h("b", { class: "bench-told-name" }),
            s(
              "svg",
              { class: "bench-bands", viewBox: `0 0 ${WIDE} ${HIGH}`, width: WIDE, height: HIGH, role: "img" },
              ...["before", "after", "posts", "marks"].map((look) => s("path", { class: `band-${look}` })),
            ),
            h("span", { class: "bench-band-words" }, h("span"), h("b"), h("span")),
            h("small"),
          ),
        (li, r) => {
          const [name, svg, words, by] = li.children as unknown as [Element, SVGSVGElement, Element, Element];
          setText(name, r.words);
          draw(svg, r);
          setText(words.children[0]!, `${r.before} before; `);
          setText(words.children[1]!, r.after);
          setText(words.children[2]!, ` with the runs, 95\u2009% range ${r.range}`);
          setText(by, r.by);
        },
      );
      known.hidden = m.known.length === 0;
      setText(known, `As was to be expected, so that it tells nothing new of: ${m.known.join("; ")}.`);
      others.hidden = m.others.length === 0;
      setText(others, `Too little was asked to learn of: ${m.others.join("; ")}.`);
      take.hidden = !m.canTake;
      againstHead.hidden = m.against.length === 0;
      against.hidden = m.against.length === 0;
      setRunsAgainst(against, m.against);
    },
  };
}
