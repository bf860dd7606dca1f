import { capital } from "../../core/capital.ts";
import type { NoEquilibrium } from "../../core/equilibrium/state.ts";
import { type Answers, goTo } from "../../state/answers.ts";
import type { LoadEnd } from "../../state/load-end.ts";
import type { Store } from "../../state/store.ts";
import type { NoticeModel } from "../../ui/notice.ts";
import type { Drawn } from "../../view/scene.ts";
import type { Refusal } from "./dragging.ts";

interface NoticeInput {
  refusal: Refusal | null;
  /** the load was stopped at its end and stands there */
  ended: LoadEnd | null;
  /** why there is no answer */
  reason: NoEquilibrium | null;
  /** the last load that holds, while the asked one does not */
  edge: Drawn | null;
  answers: Answers;
  store: Store;
  /** something was pressed that changes the answer at hand */
  again(): void;
}

const PALE = "The pale drawing is the last that held; its numbers are struck out.";

/** What the axle's sheet has to say: why something did not go, or why there is no answer, with the way back. */
export function noticeOf(n: NoticeInput): NoticeModel | null {
  if (n.refusal) return { kind: "refused", lines: [n.refusal.text] };
  if (!n.reason) return n.ended ? { kind: "refused", lines: [n.ended.text] } : null;
  if (n.reason.kind === "stopped") return searchNotice(n);
  const sentence = capital(n.reason.message);
  return { kind: "noAnswer", lines: [sentence.endsWith(".") ? sentence : `${sentence}.`, PALE], action: wayBack(n) };
}

function searchNotice({ answers, again }: NoticeInput): NoticeModel {
  const press = (words: string, run: () => void): NoticeModel["action"] => ({
    words,
    run: () => {
      run();
      again();
    },
  });
  return answers.searching()
    ? { kind: "noAnswer", lines: ["Still searching for how this car stands; go on meanwhile.", PALE], action: press("stop searching", answers.stop) }
    : { kind: "noAnswer", lines: ["The search for how this car stands was stopped.", PALE], action: press("search again", answers.again) };
}

/** Back to the last load that holds; where no load does, back to the car that did. */
function wayBack({ edge, store }: NoticeInput): NoticeModel["action"] {
  if (edge) return goTo(store, edge.state.load);
  const name = store.get().undoName;
  return name ? { words: `undo ${name}`, run: () => void store.undo() } : undefined;
}
