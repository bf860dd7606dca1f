import { fieldName } from "../../src/core/design/field-words.ts";
import { placeOf, placesOf, withOutlinePoint, withoutOutlinePoint, withPlace } from "../../src/pages/own-car/state/places.ts";
import { answerRange, isAsked, isChoiceQuestion, STEPS } from "../../src/pages/own-car/state/questions.ts";
import type { Answers, NumberKey } from "../../src/scenario/own-car/answers.ts";
import { answered, leftOut, pathsOf, startedCar } from "../../src/scenario/own-car/own-car.ts";
import { type Edit, numberFor } from "./desk.ts";
import { pick } from "./fuzzer.ts";

const KNOWN = { how: "measured", plusMinus: 0.5, date: "2026-11-26", note: "traced" } as const;

/** Everything that the page of one's own car can do to a design: it passes, or is refused with its sentence. */
export const ownCar: Edit = ({ random, store }) => {
  const a = store.settled().a;
  const asked = STEPS.flatMap((s) => s.questions).filter((q) => isAsked(q, a));
  const q = pick(random, asked);
  const change = (name: string, next: (s: typeof a) => typeof a): void => void store.act(name, (d) => ({ ...d, a: next(d.a) }));
  const some = random.next();
  if (some < 0.03) return change("start", () => startedCar());
  if (some < 0.15) return change("leave out", (s) => leftOut(s, q.key));
  if (some < 0.4) {
    const id = pick(random, placesOf(a));
    const p = placeOf(a, id);
    const to = { sMm: p.sMm + random.between(-30, 30), zMm: p.zMm + random.between(-30, 30) };
    return change("place", (s) => withPlace(s, id, to, random.next() < 0.5 ? { out: KNOWN, up: KNOWN } : null));
  }
  if (some < 0.45) return change("outline", (s) => withOutlinePoint(s, { sMm: random.between(0, 200), zMm: random.between(0, 200) }, null));
  if (some < 0.48) return change("outline back", withoutOutlinePoint);
  if (isChoiceQuestion(q)) {
    const values = Object.keys(fieldName(pathsOf(a, q.key)[0])?.values ?? {});
    return change("choice", (s) => answered(s, { [q.key]: pick(random, values) } as Answers));
  }
  const range = answerRange(a, q.key as NumberKey);
  const v = numberFor(random, range, range);
  change("answer", (s) => answered(s, { [q.key]: range.whole ? Math.round(v) : v } as Answers, random.next() < 0.3 ? KNOWN : null));
};
