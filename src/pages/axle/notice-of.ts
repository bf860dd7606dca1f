import type { NoEquilibrium } from "../../core/equilibrium/state.ts";
import { type Answers, goTo } from "../../state/answers.ts";
import type { LoadEnd } from "../../state/load-end.ts";
import type { Store } from "../../state/store.ts";
import type { NoticeModel } from "../../ui/notice.ts";
import type { Drawn } from "../../view/scene.ts";
import type { Refusal } from "./dragging.ts";

export interface NoticeCause {
  refusal: Refusal | null;
  /** a pulled load stands at the last that holds */
  ended: LoadEnd | null;
  reason: NoEquilibrium | null;
  /** the last load that holds, while the asked one does not */
  edge: Drawn | null;
}

const PALE = "The pale drawing is the last that held; its numbers are struck out.";

/** What the axle's drawing says of why something did not go, with the way back. */
export function createNoticeOf(store: Store, answers: Answers, again: () => void): (cause: NoticeCause) => NoticeModel | null {
  const press = (words: string, run: () => void): NoticeModel["action"] => ({
    words,
    run: () => {
      run();
      again();
    },
  });
  const searching = (): NoticeModel =>
    answers.searching()
      ? { kind: "noAnswer", lines: ["Still searching for how this car stands; go on meanwhile.", PALE], action: press("stop searching", answers.stop) }
      : { kind: "noAnswer", lines: ["The search for how this car stands was stopped.", PALE], action: press("search again", answers.again) };

  /** Back to the last load that holds; where no load does, back to the car that did. */
  const wayBack = (edge: Drawn | null): NoticeModel["action"] => {
    if (edge) return goTo(store, edge.state.load);
    const name = store.get().undoName;
    return name ? { words: `undo ${name}`, run: () => void store.undo() } : undefined;
  };

  return ({ refusal, ended, reason, edge }) => {
    if (refusal) return { kind: "refused", lines: [refusal.text] };
    if (!reason) return ended ? { kind: "refused", lines: [ended.text] } : null;
    if (reason.kind === "stopped") return searching();
    const sentence = reason.message.charAt(0).toUpperCase() + reason.message.slice(1);
    return { kind: "noAnswer", lines: [sentence.endsWith(".") ? sentence : `${sentence}.`, PALE], action: wayBack(edge) };
  };
}
