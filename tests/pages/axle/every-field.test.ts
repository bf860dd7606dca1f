import { describe, expect, it } from "vitest";
import { z } from "zod";
import { newBenchTest } from "../../../src/core/bench/definitions.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { controlsOf } from "../../../src/pages/axle/panels/fields.ts";
import type { Control } from "../../../src/pages/axle/state/control.ts";
import { addBox, addOutline, BOX_EDGES, FIT_NUMBERS, setEdge, setFit, setMustHold, setPoint, setWhole } from "../../../src/pages/axle/state/fit-edits.ts";
import { withControl } from "../../../src/pages/axle/state/part-edits.ts";
import { withTest } from "../../../src/pages/bench/state/edits.ts";
import { freshRun, paceOf, withGiven, withNewRun, withRunAt } from "../../../src/pages/bench/state/run-edits.ts";
import { withCell } from "../../../src/pages/bench/state/table.ts";
import { DRIVE_NUMBERS, STAGE_NUMBERS, setDrive, setDriven, setDrivenWheels, setMotors, setStage } from "../../../src/pages/map/state/drive-edits.ts";
import { unwrap } from "../../../src/scenario/partial.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { scenarioSchema } from "../../../src/scenario/schema.ts";
import type { Doc } from "../../../src/state/document.ts";
import { gate } from "../../../src/state/gate.ts";
import { PARTS } from "../../../src/view/pick.ts";
import { shipped } from "../../support/shipped.ts";

/** What no builder sets: what kind of file it is, and an editor's hint. */
const NOT_SET = ["$schema", "format", "version"];
/** The name and the line about the design stand in the menus of the bar; they are tried in the browser. */
const IN_THE_BAR = ["name", "teaches"];
/** Sides are told by the side choice, below. */
const SIDES_OF = ["left", "right"];

/** Every field of the file, lists as []; a choice's own key counts as a field. */
function leavesOf(schema: z.core.$ZodType, path: string): string[] {
  const s = unwrap(schema);
  if (s instanceof z.ZodNullable) return leavesOf(s.unwrap(), path);
  if (s instanceof z.ZodObject)
    return Object.entries(s.shape as Record<string, z.core.$ZodType>).flatMap(([key, inner]) => leavesOf(inner, path === "" ? key : `${path}.${key}`));
  if (s instanceof z.ZodArray) return leavesOf(s.element, `${path}[]`);
  if (s instanceof z.ZodUnion) return s.options.flatMap((o) => leavesOf(o, path));
  return [path];
}
const FIELDS = [...new Set(leavesOf(scenarioSchema, ""))].filter((f) => ![...NOT_SET, ...IN_THE_BAR, ...SIDES_OF].includes(f.split(".")[0] as string));

/** Fields whose value is another one in `after`, lists as []; what only one of them has counts with all that is in it. */
function changedFields(before: unknown, after: unknown, path = ""): string[] {
  if (Object.is(before, after)) return [];
  const open = (v: unknown): v is Record<string, unknown> => typeof v === "object" && v !== null;
  if (!open(before) && !open(after)) return [path];
  const keys = new Set([...Object.keys(open(before) ? before : {}), ...Object.keys(open(after) ? after : {})]);
  const list = Array.isArray(before) || Array.isArray(after);
  return [...keys].flatMap((key) =>
    changedFields(open(before) ? before[key] : undefined, open(after) ? after[key] : undefined, list ? `${path}[]` : path === "" ? key : `${path}.${key}`),
  );
}

/** What a control may be set to, in the file's measure. */
function triesOf(c: Control, s: Scenario): (number | string)[] {
  if (c.kind === "choice") return Object.values(c.options);
  if (c.kind === "text") return ["another"];
  if (c.kind === "act") return [""];
  const range = rangeOf(c.root ? c.path : `corner.${c.path}`, s) ?? c;
  const times = c.times ?? 1;
  return [c.min / times, c.max / times].map((v) => Math.min(range.max, Math.max(range.min, v)));
}

const controls = (s: Scenario): Control[] => PARTS.flatMap((p) => controlsOf(p, cornerOf(s, "right"), s));

/** Fields that one edit changes, each with the edit's words. Kinds are chosen first, since they bring fields of their own. */
function reachedByParts(start: Scenario): Set<string> {
  const reached = new Set<string>();
  const seen = new Set<string>();
  const walk = (s: Scenario, deep: number): void => {
    for (const c of controls(s))
      for (const value of triesOf(c, s)) {
        const next = withControl(s, c, "both", value);
        // a list's row that comes or goes sets no field
        if (c.kind !== "act") for (const f of changedFields(s, next)) if (c.kind !== "choice" || at(f, c)) reached.add(f);
        const kind = `${c.path}=${value}`;
        if (deep > 0 && (c.kind === "choice" || c.kind === "act") && !seen.has(kind) && next !== s) {
          seen.add(kind);
          walk(next, deep - 1);
        }
      }
  };
  walk(start, 1);
  return reached;
}
/** a choice as a whole changes the fields that come with it; only its own key is set by it */
const at = (field: string, c: Control): boolean => {
  const path = c.root ? c.path : `corner.${c.path}`;
  return field === path || ["shape", "on", "kind"].some((tag) => field === `${path}.${tag}`);
};

const run = freshRun("2026-02-03", 6, "left");
function benchTest(s: Scenario) {
  const test = newBenchTest(s, "springPress");
  return { ...test, rows: withCell(test.rows, { row: 0, column: 0 }, "500 g", 2) };
}

function reachedElsewhere(a: Scenario): Set<string> {
  const doc: Doc = { a, b: a, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } };
  const drawn = addBox(addOutline(doc));
  const edits: ((d: Doc) => Doc)[] = [
    ...DRIVE_NUMBERS.map(
      (key) => (d: Doc) => (key === "motorsPerWheel" ? setMotors(d, 3) : key === "drivenWheels" ? setDrivenWheels(d, 2) : setDrive(d, key, 0.987)),
    ),
    (d: Doc) => setDriven(d, 31),
    (d: Doc) => ({ ...d, a: withOrigins(d.a, { "corner.spring.rateNPerMm": { how: "guess" } }) }),
    (d: Doc) => setMustHold(d, !d.a.fit.mustHold),
    ...STAGE_NUMBERS.map((key) => (d: Doc) => setStage(d, 0, key, 0.5)),
    ...FIT_NUMBERS.map((key) => (d: Doc) => setFit(d, key, 3.3)),
    ...BOX_EDGES.map((edge) => (d: Doc) => setEdge(d, 0, edge, 3.3)),
    ...(["sMm", "zMm"] as const).map((key) => (d: Doc) => setPoint(d, "fit.o.0.0", key, 3.3)),
    ...(["fit.o.0.0", "fit.b.0.0"] as const).flatMap((id) => [
      (d: Doc) => setWhole(d, id, { name: "another" }),
      (d: Doc) => setWhole(d, id, { bothSides: false }),
      (d: Doc) => setWhole(d, id, { closed: true }),
    ]),
    (d: Doc) => ({ ...d, a: withTest(d.a, null, benchTest(d.a)) }),
    ...(["speed", "lap", "g"] as const).map((by) => (d: Doc) => ({ ...d, a: withNewRun(d.a, { ...run, pace: paceOf(by, 5) }) })),
    (d: Doc) => ({ ...d, a: withNewRun(d.a, withGiven(run, "jointPullOut", true, { side: "left", at: "lowerInner" })) }),
    ...[{ felt: "hot" as const }, { celsius: 60 }].map((hub) => (d: Doc) => ({ ...d, a: withRunAt(withNewRun(d.a, run), d.a.runs.length, { ...run, hub }) })),
  ];
  // what is known of a value is one field, whichever value it is
  return new Set(
    edits
      .flatMap((edit) => changedFields(drawn.a, edit(drawn).a))
      .map((f) => (f.startsWith("origins.") ? "origins" : f.startsWith("bench[].setUp") ? "bench[].setUp" : f)),
  );
}

describe("every field of the file", () => {
  it("is changed by a control of the page", () => {
    const start = shipped("heavy-forked.json");
    const reached = new Set([...reachedByParts(start), ...reachedElsewhere(start)]);
    expect(FIELDS.length).toBeGreaterThan(120);
    expect(FIELDS.filter((f) => !reached.has(f))).toEqual([]);
  });

  it("is set on one side alone as well, with what its kind brings along, and the file reads back", () => {
    const refused: string[] = [];
    for (const file of ["heavy-forked.json", "asymmetric.json", "converging-unequal.json"]) {
      const s = shipped(file);
      for (const c of controls(s).filter((x) => !x.root))
        for (const value of triesOf(c, s).slice(0, 4)) {
          const next = withControl(s, c, "left", value);
          expect(cornerOf(next, "right"), `${c.path} ${value}`).toEqual(cornerOf(s, "right"));
          const why = gate({ a: next, b: s, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } });
          // what cannot be built says so; what does not read back as a file would say otherwise
          if (why && /unknown|not whole|expected|missing/i.test(why)) refused.push(`${c.path} ${value}: ${why}`);
        }
    }
    expect(refused).toEqual([]);
  });

  it("of a kind chosen as a whole starts from values that may stand", () => {
    const s = shipped("heavy-forked.json");
    const refused: string[] = [];
    for (const c of controls(s))
      if (c.kind === "choice" && c.to)
        for (const key of Object.values(c.options)) {
          const next = withControl(s, c, "both", key);
          const why = gate({ a: next, b: s, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } });
          if (why) refused.push(`${c.path} ${key}: ${why}`);
        }
    expect(refused).toEqual([]);
  });
});

describe("the side choice", () => {
  const s = shipped("heavy-forked.json");
  const rate = controls(s).find((c) => c.path === "spring.rateNPerMm") as Control;

  it("gives one side a value of its own, and takes it back where it is as the shared one", () => {
    const own = withControl(s, rate, "right", 3.2);
    expect(own.right).toEqual({ spring: { rateNPerMm: 3.2 } });
    expect(own.corner).toEqual(s.corner);
    expect(withControl(own, rate, "right", s.corner.spring.rateNPerMm)).toEqual(s);
  });

  it("sets both sides alike, whatever each had", () => {
    const own = withControl(withControl(s, rate, "right", 3.2), rate, "left", 2.9);
    const both = withControl(own, rate, "both", 4);
    expect([both.left, both.right, both.corner.spring.rateNPerMm]).toEqual([{}, {}, 4]);
    // also where the value of the side that is seen stays
    expect(withControl(own, rate, "both", 3.2).left).toEqual({});
  });

  it("keeps a part of a choice whole on its side, as the file wants it", () => {
    const holds = controls(s).find((c) => c.path === "hub.retention.capacityN") as Control;
    const own = withControl(s, holds, "left", 99);
    expect(own.left).toEqual({ hub: { retention: { ...s.corner.hub.retention, capacityN: 99 } } });
  });
});
