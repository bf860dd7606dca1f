import { resolveMaterial } from "../../core/arm/materials.ts";
import type { ArmName, Load, Scenario, Side } from "../../core/design/types.ts";
import { cannotBuild } from "../../state/cannot-build.ts";
import type { Doc } from "../../state/document.ts";
import type { StoppedModel } from "../../ui/stopped.ts";
import { degrees } from "../../view/format.ts";
import { connectLeans, type LeansClient } from "../../worker/lean-client.ts";
import type { TakeModel } from "./panels/column.ts";
import { type ArmChoice, asStraight, type Keep, type Take, takesFromB, withRigidArm } from "./state/edits.ts";

/** A change that is tried beside the page before it is chosen. */
interface Trial {
  take: Take | Keep;
  words: string;
  /** name of the change for undo */
  name: string;
  /** null: nothing would change */
  scenario: Scenario | null;
  /** said once it is made */
  compared?: string;
}

interface Trials {
  rows: readonly Trial[];
  models: readonly TakeModel[];
  /** lean of the wheel if the arm did not bend, degrees; null: not known yet, or no answer */
  rigidDeg: number | null;
}

interface TrialsMaker {
  at(doc: Doc, choice: ArmChoice, side: Side, leanDeg: number | null, dragging: boolean): Trials;
}

/** quiet time before the designs are solved beside the page, ms */
const QUIET_MS = 90;

interface Solved {
  takes: Map<Trial["take"], number | null>;
  rigid: number | null;
}

let client: LeansClient | null = null;
let onNew: () => void = () => undefined;
const answers = new Map<string, (number | null)[]>();

/** What taking B's arm or a measure of it, or one straight bar, would do; solved in a worker while nothing is dragged. */
export function createTrials(changed: () => void, stopped: (model: StoppedModel | null) => void): TrialsMaker {
  onNew = changed;
  client ??= connectLeans((key, leans) => {
    answers.set(key, leans);
    onNew();
  });
  client.watch(stopped);
  const { ask: send } = client;
  let asked = "";
  let timer = 0;
  let count = 0;
  let last: {
    a: unknown;
    b: unknown;
    load: Load;
    name: ArmName;
    side: Side | null;
    shown: Side;
    key: string;
    rows: Trial[];
    fits: boolean[];
    order: Trial["take"][];
    solved: Solved | null;
  } | null = null;

  const prepare = (doc: Doc, choice: ArmChoice, side: Side): NonNullable<typeof last> => {
    if (last && last.a === doc.a && last.b === doc.b && last.load === doc.load && last.name === choice.name && last.side === choice.side && last.shown === side)
      return last;
    const rows: Trial[] = [...takesFromB(doc, choice, side), ...asStraight(doc.a, choice, side).map((r) => ({ ...r, take: r.keep }))];
    const fits = rows.map((r) => r.scenario !== null && cannotBuild(r.scenario) === null);
    last = { a: doc.a, b: doc.b, load: doc.load, name: choice.name, side: choice.side, shown: side, key: `${++count}`, rows, fits, order: [], solved: null };
    return last;
  };
  const ask = (doc: Doc, set: NonNullable<typeof last>): void => {
    asked = set.key;
    window.clearTimeout(timer);
    timer = window.setTimeout(() => {
      const able = set.rows.filter((_r, i) => set.fits[i]);
      set.order = able.map((r) => r.take);
      send(set.key, {
        scenarios: [...able.flatMap((r) => (r.scenario ? [r.scenario] : [])), withRigidArm(doc.a, set.name, resolveMaterial)],
        load: doc.load,
        side: set.shown,
      });
    }, QUIET_MS);
  };

  return {
    at(doc, choice, side, leanDeg, dragging) {
      const set = prepare(doc, choice, side);
      if (!dragging && asked !== set.key) ask(doc, set);
      const got = answers.get(set.key);
      if (got && !set.solved) {
        set.solved = { takes: new Map(set.order.map((t, i) => [t, got[i] ?? null])), rigid: got[set.order.length] ?? null };
        answers.clear();
      }
      const now = leanDeg === null ? "" : degrees(leanDeg);
      const models = set.rows.map((r, i): TakeModel => {
        const base = { take: r.take, words: r.words };
        if (r.scenario === null) return { ...base, text: "the same already", can: false };
        if (!set.fits[i]) return { ...base, text: "cannot be built", can: false };
        if (!set.solved) return { ...base, text: `lean ${now} → …`, can: true };
        const deg = set.solved.takes.get(r.take) ?? null;
        return deg === null ? { ...base, text: "finds no hold", can: false } : { ...base, text: `lean ${now} → ${degrees(deg)}`, can: true };
      });
      return { rows: set.rows, models, rigidDeg: set.solved?.rigid ?? null };
    },
  };
}
