import { isDeepStrictEqual } from "node:util";
import { analyzeBench, buildBench } from "../../src/core/analyze.ts";
import { fieldValue } from "../../src/core/design/origins.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { createRandom, type Random } from "../../src/core/numerics/random.ts";
import { FIRST_VALUE } from "../../src/pages/axle/state/part-edits.ts";
import { parseLoad, parseScenario } from "../../src/scenario/parse.ts";
import { deltaOf } from "../../src/state/delta.ts";
import { type Doc, INITIAL_VIEW } from "../../src/state/document.ts";
import { gate } from "../../src/state/gate.ts";
import type { Entry, History } from "../../src/state/history.ts";
import { keptHistory } from "../../src/state/history-text.ts";
import { openLink, toHash } from "../../src/state/link.ts";
import { readWork, saveWork, stored, type Work } from "../../src/state/persist.ts";
import { createStore, type Store } from "../../src/state/store.ts";
import { cornerScenario } from "../support/corner-scenario.ts";
import { notFinite } from "../support/not-finite.ts";
import { LOAD_BOUND, REST_BOUND } from "./cars.ts";
import { type Desk, type Edit, handOn, memoryShelf } from "./desk.ts";
import { shippedTexts } from "./files.ts";
import { claim, type Fuzzer, fuzz, pick } from "./fuzzer.ts";
import { EDITS } from "./page-edits.ts";

/** edits of one walk */
export const STEPS = 50;
/** shares of the steps after which everything kept is read back, the page starts anew, and the axle is worked out */
const READ_BACK = 0.03;
const RELOAD = 0.02;
const SOLVE = 0.005;
const EXTREME_CARS = 40;

const plain = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;
const allOften = EDITS.reduce((sum, [, often]) => sum + often, 0);

function someEdit(random: Random): readonly [string, Edit] {
  let left = random.next() * allOften;
  for (const [name, often, edit] of EDITS) {
    left -= often;
    if (left < 0) return [name, edit];
  }
  return ["undo", ({ store }) => void store.undo()];
}

const read = (text: string, from: string): Scenario => {
  const r = parseScenario(text, from);
  claim(r.ok, `${from} is refused`);
  return r.scenario;
};

/** edits that tell themselves how values are known, or bring another design */
const TELL = new Set(["own car", "bench", "known", "shelf", "take", "swap", "copy", "open", "try as B", "undo", "redo"]);
const LISTS = /\[\d+\]/;

/** What is known of a value after an edit was known of the same value before; elements of lists move and are left out. */
function claimKnown(before: Scenario, after: Scenario): void {
  for (const [path, origin] of Object.entries(after.origins)) {
    if (LISTS.test(path)) continue;
    if (origin.note === FIRST_VALUE) continue;
    const from = [path, path.replace(/^(left|right)\./, "corner.")].find((p) => isDeepStrictEqual(before.origins[p], origin));
    claim(from !== undefined, `${path} is known otherwise than before`);
    claim(fieldValue(before, from) === fieldValue(after, path), `${path} changed and is still known as before`);
  }
}

const proven = new WeakSet<object>();

/** A document that stands can be written and read back as it is, and every number of it is one. */
function claimDoc({ a, b, load }: Doc): void {
  for (const s of [a, b]) {
    if (proven.has(s)) continue;
    const text = JSON.stringify(s);
    const r = parseScenario(JSON.parse(text), "the design");
    claim(r.ok, `a design that stands cannot be read back: ${r.ok ? "" : r.problems[0]?.message}`);
    claim(isDeepStrictEqual(r.scenario, JSON.parse(text)), `a design that stands reads otherwise: ${JSON.stringify(deltaOf(JSON.parse(text), r.scenario))}`);
    claim(notFinite(s).length === 0, `numbers that are none: ${notFinite(s).slice(0, 3).join(", ")}`);
    proven.add(s);
  }
  const l = parseLoad(plain(load), "the load");
  claim(l.ok && isDeepStrictEqual(l.value, plain(load)) && notFinite(load).length === 0, `a load that stands cannot be read back: ${JSON.stringify(load)}`);
}

/** One sentence for people. */
function claimSentence(text: string): void {
  claim(/^[A-Zt].{10,500}\.$/su.test(text) && !/undefined|\[object/.test(text), `no sentence: ${JSON.stringify(text)}`);
}

type Tally = Record<string, number>;

/** what a step back or forth through the history is counted as */
const BACK = "undone or redone";

/** The store, with what is claimed of every change that is asked of it: made and valid, or refused with its sentence and without a trace. */
function watched(store: Store, tally: Tally): Store {
  const count = (end: string): void => {
    tally[end] = (tally[end] ?? 0) + 1;
  };
  const checked = (run: () => string | null): string | null => {
    const settled = store.settled();
    const history = store.history();
    const refusal = run();
    claim(store.get().refusal === refusal, "the sentence that is shown is another one than was given");
    if (refusal !== null) {
      claimSentence(refusal);
      claim(store.settled() === settled && store.history() === history, "a refused change left a trace");
    } else claimDoc(store.get().doc);
    count(refusal === null ? "passed" : "refused");
    return refusal;
  };
  const back = (run: () => string | null): string | null => {
    const name = run();
    claimDoc(store.settled());
    count(name === null ? "nothing to undo or redo" : BACK);
    return name;
  };
  return {
    ...store,
    act: (name, change) => checked(() => store.act(name, change)),
    actMerged: (kind, name, change) => checked(() => store.actMerged(kind, name, change)),
    preview: (doc) => checked(() => store.preview(doc)),
    commit(name) {
      store.commit(name);
      claimDoc(store.settled());
      claim(!store.get().dragging, "a drag goes on after its end");
    },
    cancel() {
      const settled = store.settled();
      store.cancel();
      claim(store.settled() === settled && store.get().doc === settled, "a drag that was put back left a trace");
    },
    undo: () => back(() => store.undo()),
    redo: () => back(() => store.redo()),
  };
}

const plainDesigns = new WeakMap<Scenario, Scenario>();
function plainDesign(s: Scenario): Scenario {
  const known = plainDesigns.get(s) ?? plain(s);
  plainDesigns.set(s, known);
  return known;
}
/** As `wanted` reads once it has been a text. */
const sameDoc = (found: Doc, wanted: Doc): boolean =>
  isDeepStrictEqual(found.a, plainDesign(wanted.a)) && isDeepStrictEqual(found.b, plainDesign(wanted.b)) && isDeepStrictEqual(found.load, plain(wanted.load));
const sameSteps = (found: readonly Entry<Doc>[], wanted: readonly Entry<Doc>[]): boolean =>
  found.length === wanted.length &&
  found.every((e, i) => e.name === wanted[i]!.name && sameDoc(e.before, wanted[i]!.before) && sameDoc(e.after, wanted[i]!.after));

/** What is kept comes back: the document, the view, the names of all steps and the documents that they lead to. */
function readBack({ store, shelf, clock }: Desk, instead: Doc): Work {
  const work: Work = { doc: store.settled(), view: store.get().view, history: store.history() };
  claim(saveWork(shelf, "work", "this tab", work, clock.now), "could not be saved");
  const text = stored(shelf).find((s) => s.id === "work")?.text ?? "";
  const r = readWork(text, instead, gate);
  claim(r.ok && r.amiss.length === 0, `kept work cannot be read: ${r.ok ? r.amiss[0] : r.message}`);
  claim(sameDoc(r.work.doc, work.doc), "kept work reads otherwise");
  claim(isDeepStrictEqual(plain(r.work.view), plain(work.view)), "the view comes back otherwise");
  const kept = keptHistory(work.history);
  claim(sameSteps(r.work.history.past, work.history.past.slice(work.history.past.length - kept.past.length)), "what can be undone comes back otherwise");
  claim(sameSteps(r.work.history.future, work.history.future.slice(0, kept.future.length)), "what can be done again comes back otherwise");
  return r.work;
}

/** All the way back and forth again: every step leads to the document that stood there. */
function thereAndBack(store: Store): void {
  const { past, future }: History<Doc> = store.history();
  const end = [...past, ...future].at(-1)?.after ?? store.settled();
  for (const step of [...past].reverse()) {
    claim(store.undo() === step.name, `undo of ${step.name} has another name`);
    claim(isDeepStrictEqual(store.settled(), step.before), `undo of ${step.name} leads elsewhere`);
  }
  for (const step of [...past, ...future]) {
    claim(store.redo() === step.name, `redo of ${step.name} has another name`);
    claim(isDeepStrictEqual(store.settled(), step.after), `redo of ${step.name} leads elsewhere`);
  }
  claim(isDeepStrictEqual(store.settled(), end) && store.redo() === null, "the way forth ends elsewhere");
}

/** The axle is worked out within its bound, or says why not. */
function solved({ a, load }: Doc): void {
  const bench = buildBench(a);
  claim(bench.solver.iterations <= REST_BOUND, `${bench.solver.iterations} steps to the rest`);
  const before = bench.solver.iterations;
  const r = analyzeBench(bench, load);
  claim(bench.solver.iterations - before <= LOAD_BOUND, `${bench.solver.iterations - before} steps to the load`);
  claim(notFinite(r).length === 0, `numbers that are none in the answer: ${notFinite(r).slice(0, 3).join(", ")}`);
  if (!r.ok) claim(r.reason.message.length >= 20, `no reason: ${JSON.stringify(r.reason)}`);
}

async function walk(random: Random, first: Doc, cars: readonly Scenario[]): Promise<Tally> {
  const tally: Tally = {};
  const clock = { now: 0 };
  const shelf = memoryShelf();
  const begin = (work: Work): Desk => {
    const store = watched(
      createStore(work.doc, work.view, () => clock.now, gate, work.history),
      tally,
    );
    return { random, store, dragging: handOn(store), shelf, cars, clock };
  };
  let desk = begin({ doc: first, view: INITIAL_VIEW, history: { past: [], future: [] } });
  for (let n = 0; n < STEPS; n++) {
    clock.now += random.next() < 0.5 ? 100 : 2000;
    const [name, edit] = someEdit(random);
    try {
      const before = desk.store.settled();
      const backs = tally[BACK] ?? 0;
      edit(desk);
      // the other hand may go a step back in the middle of a drag
      if (!TELL.has(name) && (tally[BACK] ?? 0) === backs) {
        claimKnown(before.a, desk.store.settled().a);
        claimKnown(before.b, desk.store.settled().b);
      }
      if (random.next() < READ_BACK) readBack(desk, first);
      if (random.next() < SOLVE) solved(desk.store.settled());
      if (random.next() < RELOAD) {
        const work = readBack(desk, first);
        claimDoc(work.doc);
        desk = begin(work);
      }
    } catch (e) {
      (e as Error).message = `step ${n}, ${name}: ${(e as Error).message}`;
      (e as Error).stack = `${(e as Error).message}\n${(e as Error).stack}`;
      throw e;
    }
  }
  const link = await openLink(await toHash(desk.store.settled()));
  claim(link.ok && sameDoc(link.doc, desk.store.settled()), "the link opens another document");
  readBack(desk, first);
  thereAndBack(desk.store);
  return tally;
}

/** Random walks over the edits of all pages, each a case of 50; ends count what was asked of the store. */
export const fuzzEdits: Fuzzer = (seed, count) => {
  const cars = shippedTexts().map((text) => read(text, "a shipped design"));
  return fuzz("edits", seed, count, {
    make: (random) => {
      const extreme = cornerScenario(random.whole(0, EXTREME_CARS));
      const open = [...cars, ...(gate({ a: extreme, b: extreme, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } }) === null ? [extreme] : [])];
      return { random: createRandom(random.whole(0, 2 ** 31)), open };
    },
    check: ({ random, open }) => walk(random, { a: pick(random, open), b: pick(random, open), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 } }, open),
  });
};
