import type { AxleReport } from "../../core/analysis.ts";
import type { NoEquilibrium } from "../../core/equilibrium/state.ts";
import { type Answer, type Answers, drawnOf } from "../../state/answers.ts";
import type { Doc } from "../../state/document.ts";
import type { BesideAnswer } from "../../worker/beside.ts";
import type { BesideClient, BesideQuestion } from "../../worker/beside-client.ts";

/** What is told beside the drawing: both designs of one moment under one load. */
export interface MomentAnswers {
  moment: number;
  doc: Doc;
  a: { ok: true; report: AxleReport } | { ok: false; reason: NoEquilibrium };
  b: Rival;
}

export type Rival = Pick<Answer, "analysis" | "drawn">;

interface Question extends BesideQuestion {
  moment: number;
  doc: Doc;
  /** B's answer where the page has it already */
  known: Rival | null;
}

export interface AnswersBeside {
  /**
   * What is told in this frame, never of an older moment than that of the frame before the last.
   * @param a what the page itself has worked out for A
   * @param here no hand waits for the page: it works out all of it by itself
   */
  of(doc: Doc, radiusM: number, a: Answer, here: boolean): MomentAnswers;
  /** whether what is told now is of a moment that has passed: another frame must come, also when the hand holds still */
  behind(): boolean;
  /** whether what was told of a moment may no longer stand in this frame */
  overdue(moment: number): boolean;
}

/** An answer that is not there by the second frame after its question is worked out on the spot. */
const FRAMES = 2;

interface Moment {
  moment: number;
  frame: number;
  doc: Doc;
  radiusM: number;
}

type Connect = (onAnswer: (question: Question, answer: BesideAnswer) => void) => BesideClient<Question>;

/** While a hand drags, answers come from beside the page; at rest they are the page's own, whole ones. */
export function createAnswersBeside(answers: Record<"a" | "b", Answers>, connect: Connect, onNew: () => void): AnswersBeside {
  let frame = 0;
  let shown: MomentAnswers | null = null;
  /** the present moment, and those before it that are not told yet, oldest first */
  let moments: Moment[] = [];
  let present: Moment | null = null;
  let asked = -1;
  let shownVersion = 0;

  const tell = (next: MomentAnswers): MomentAnswers => {
    shown = next;
    shownVersion = answers.b.version();
    moments = moments.filter((m) => m.moment > next.moment);
    return next;
  };
  const client = connect((q, answer) => {
    // newer ones may have been worked out meanwhile
    if (shown && q.moment <= shown.moment) return;
    if (answer.a.ok) answers.a.heard(answer.a.report);
    const b = answer.b ? { analysis: answer.b, drawn: drawnOf(q.doc.b, answer.b) } : q.known;
    if (!b) return;
    tell({ moment: q.moment, doc: q.doc, a: answer.a, b });
    onNew();
  });
  const overdue = (moment: number): boolean => {
    const next = moments.find((m) => m.moment > moment) ?? (present && present.moment > moment ? present : null);
    return next !== null && frame - next.frame >= FRAMES;
  };

  return {
    overdue,
    behind: () => shown?.moment !== present?.moment,
    of(doc, radiusM, a, here) {
      frame++;
      if (!present || present.radiusM !== radiusM || !sameDoc(present.doc, doc)) {
        present = { moment: (present?.moment ?? 0) + 1, frame, doc, radiusM };
        moments.push(present);
      }
      const { moment } = present;
      const onTheSpot = (): MomentAnswers =>
        tell({ moment, doc, a: answers.a.at(doc.a, doc.load, here ? a.depth : "live").analysis, b: answers.b.at(doc.b, doc.load, "live") });
      if (here || !shown) return shown?.moment === moment && shown.a === a.analysis && shownVersion === answers.b.version() ? shown : onTheSpot();
      if (shown.moment === moment) return shown;
      if (asked !== moment) {
        asked = moment;
        const known = answers.b.known(doc.b, doc.load);
        client.ask({ moment, doc, ...doc, radiusM, withB: known === null, known });
      }
      return overdue(shown.moment) ? onTheSpot() : shown;
    },
  };
}

const sameDoc = (x: Doc, y: Doc): boolean => x.a === y.a && x.b === y.b && x.load === y.load;
