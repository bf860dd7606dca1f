import { isDeepStrictEqual } from "node:util";
import { tracksOf } from "../../src/core/cornering.ts";
import { fieldValue, withOrigins } from "../../src/core/design/origins.ts";
import { BENCH_KINDS } from "../../src/core/design/tried.ts";
import { type Scenario, SIDES } from "../../src/core/design/types.ts";
import { freshRun } from "../../src/pages/bench/state/run-edits.ts";
import { benchSlice } from "../../src/pages/bench/state/slice.ts";
import { CAPS } from "../../src/scenario/caps.ts";
import { KINDS_OF_PARTS, type ShelfPart } from "../../src/scenario/shelf-kinds.ts";
import { TYPICAL_PARTS } from "../../src/scenario/shelf-parts.ts";
import { freeName } from "../../src/state/edit.ts";
import { ownShelf, putParts, removePart } from "../../src/state/own-shelf.ts";
import { designs, keepDesign, removeDesign } from "../../src/state/persist.ts";
import { partOfDesign, takenFromShelf } from "../../src/state/shelf-edits.ts";
import { CHANCES, sureSlice } from "../../src/state/sure.ts";
import { taken } from "../../src/state/take.ts";
import { differences, leaves } from "../../src/view/differences.ts";
import { PARTS } from "../../src/view/pick.ts";
import { type Edit, passes } from "./desk.ts";
import { claim, pick } from "./fuzzer.ts";

export const takeFromB: Edit = ({ random, store }) => {
  const { a, b } = store.settled();
  const all = differences(a, b).flatMap((d) => (random.next() < 0.5 ? leaves(d) : [d]));
  if (all.length === 0) return;
  const take = taken(a, b, pick(random, all).path);
  store.act(`take ${take.path} from B`, (d) => ({ ...d, a: take.scenario }));
};

export const swap: Edit = ({ store }) => passes(store.act("swap A and B", (d) => ({ ...d, a: d.b, b: d.a })));

export const copy: Edit = ({ random, store }) => {
  const [from, to] = random.next() < 0.5 ? (["a", "b"] as const) : (["b", "a"] as const);
  // a copy's name grows by its number
  const long = "x".repeat(random.whole(117, 120));
  if (random.next() < 0.5) passes(store.act("a long name", (d) => ({ ...d, [from]: { ...d[from], name: long } })));
  passes(store.act(`copy ${from} to ${to}`, (d) => ({ ...d, [to]: { ...d[from], name: freeName(d[from].name, [d[from].name]) } })));
  claim(store.settled().a.name !== store.settled().b.name, "the copy bears the name of what was copied");
};

const LETTERS = ["a", "ö", "🛞", "\u202e", "\u0000", "\\", '"', "\u2028", " ", "(2)"] as const;

export const rename: Edit = ({ random, store }) => {
  const which = pick(random, ["a", "b"] as const);
  const long = random.next() < 0.5;
  const letters = Array.from({ length: random.whole(1, 6) }, () => pick(random, LETTERS)).join("");
  const text = (long ? "x".repeat(random.whole(112, 121)) + letters : letters).trim().slice(0, CAPS.nameLetters);
  if (text) passes(store.act(`rename ${which.toUpperCase()} to ${text}`, (d) => ({ ...d, [which]: { ...d[which], name: text } })));
  if (long) passes(store.act(`describe ${which.toUpperCase()}`, (d) => ({ ...d, [which]: { ...d[which], teaches: letters.repeat(random.whole(0, 30)) } })));
};

export const open: Edit = ({ random, store, cars }) => {
  const scenario = pick(random, cars);
  const which = pick(random, ["a", "b"] as const);
  passes(store.act(`open ${scenario.name} as ${which.toUpperCase()}`, (d) => ({ ...d, [which]: scenario })));
};

export const keep: Edit = ({ random, store, shelf, clock }) => {
  const name = keepDesign(shelf, store.settled().a, pick(random, ["this tab", "another tab"]), clock.now);
  if (name && name !== store.settled().a.name) passes(store.act(`rename A to ${name}`, (d) => ({ ...d, a: { ...d.a, name } })));
  if (random.next() < 0.3) {
    const back = removeDesign(shelf, pick(random, Object.keys(designs(shelf))), clock.now);
    if (random.next() < 0.5) back?.();
  }
};

/** Paths of all values of a design. */
function valuePaths(s: Scenario): string[] {
  const out: string[] = [];
  const walk = (v: unknown, path: string): void => {
    if (typeof v === "object" && v !== null)
      for (const [key, inner] of Object.entries(v)) walk(inner, Array.isArray(v) ? `${path}[${key}]` : path === "" ? key : `${path}.${key}`);
    else if (fieldValue(s, path) !== undefined) out.push(path);
  };
  walk(s, "");
  return out;
}

/** How some values are known: a guess, measured, or entered again. */
export const known: Edit = ({ random, store }) => {
  const { a } = store.settled();
  const all = valuePaths(a);
  for (let n = random.whole(1, 8); n > 0; n--) {
    const path = pick(random, all);
    const sure = typeof fieldValue(a, path) === "number" && random.next() < 0.5 ? { plusMinus: pick(random, [0, 1e-3]) } : {};
    const origin = pick(random, [null, { how: "guess", ...sure, note: "ö" } as const, { how: "measured", ...sure, date: "2026-11-26" } as const]);
    const many = Object.keys(a.origins).length > CAPS.origins - 10;
    passes(store.act(`${path} is known`, (d) => ({ ...d, a: withOrigins(d.a, { [path]: many ? null : origin }) })));
  }
};

/** A part is taken from the shelf, or put on one's own and taken from there. */
export const shelf: Edit = ({ random, store, shelf: home, clock }) => {
  const sides = pick(random, ["both", ...SIDES] as const);
  const typical = pick(random, TYPICAL_PARTS);
  const place = pick(random, KINDS_OF_PARTS[typical.kind].places);
  const take = (part: ShelfPart): void => void store.act(`take ${part.name} from the shelf`, (d) => ({ ...d, a: takenFromShelf(d.a, part, sides, place) }));
  if (random.next() < 0.6) return take(typical);
  const mine = partOfDesign(store.settled().a, typical.kind, pick(random, LETTERS), pick(random, SIDES), place);
  if (mine.name.trim() === "") return;
  claim(putParts(home, [mine], clock.now) === null, "a part could not be put on the shelf");
  const own = ownShelf(home);
  claim(own.amiss.length === 0, `a part of a design that stands cannot be read: ${own.amiss[0]}`);
  take(
    pick(
      random,
      own.parts.filter((p) => p.kind === typical.kind),
    ),
  );
  if (random.next() < 0.5) {
    const gone = pick(random, own.parts);
    const back = removePart(home, gone.kind, gone.name, clock.now);
    claim(back !== null, "a part could not be removed");
    if (random.next() < 0.5) claim(back() && isDeepStrictEqual(ownShelf(home), own), "a part that was put back lies otherwise");
  }
};

export const undo: Edit = ({ store }) => void store.undo();
export const redo: Edit = ({ store }) => void store.redo();

const LOOKS = ["axle", "arm", "speedMap", "motion", "bench", "report"] as const;

/** What is not undone: the page, the curve, which arm, how far the lesson is. */
export const look: Edit = ({ random, store }) => {
  const { view, doc } = store.get();
  const lesson = {
    step: pick(random, [null, "push", "lean"] as const),
    done: ["push"],
    base: { lateralG: doc.load.lateralG, leanDeg: 1.5, arms: JSON.stringify(doc.a.corner.lowerArm) },
  };
  const bench = benchSlice.patched(view, {
    part: pick(random, ["tests", "runs"] as const),
    kind: pick(random, [null, ...BENCH_KINDS]),
    test: pick(random, [null, 0, 7]),
    run: pick(random, [null, "draft", 2] as const),
    draft: pick(random, [null, { run: freshRun("2026-11-26", 6, "left"), paced: random.next() < 0.5 }]),
  }).pages;
  const sure = sureSlice.patched(view, { chancePercent: pick(random, CHANCES), of: pick(random, ["lean", "safe"] as const) }).pages;
  store.setView({
    page: pick(random, LOOKS),
    show: { ...view.show, bend: pick(random, [1, 3, 10] as const), fit: random.next() < 0.5 },
    selection: pick(random, [null, ...PARTS]),
    drawerPx: random.whole(60, 800),
    road: { ...view.road, track: random.whole(0, tracksOf(doc.a).length), radiusM: pick(random, [null, 0.1, 7.35, 1000]), shock: pick(random, [1, 1.8, 12]) },
    pages: {
      ...view.pages,
      ...bench,
      ...sure,
      arm: { name: "upper", side: pick(random, [null, "left"]), pushN: random.whole(-1000, 1000), pressN: 3, lesson },
    },
  });
};
