import type { RunAgainst } from "../view/runs/words.ts";
import { h, keyed, setText } from "./dom.ts";
import { setLines } from "./lines.ts";

/** The runs that contradict the model, in a list. */
export function setRunsAgainst(list: Element, runs: readonly RunAgainst[]): void {
  keyed(
    list,
    runs.map((run, i) => ({ run, key: String(i) })),
    (r) => r.key,
    () => h("li", {}, h("p"), h("p", {}, "One of these alone would explain it, the most plausible first:"), h("ul")),
    (li, { run }) => {
      const [said, head, reasons] = li.children as unknown as [Element, HTMLElement, Element];
      setText(said, run.said);
      head.hidden = run.explained.length < 2;
      setLines(reasons, run.explained);
    },
  );
}
