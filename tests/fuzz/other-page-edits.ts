import { MATERIAL_NAMES } from "../../src/core/arm/materials.ts";
import { armLengthMm } from "../../src/core/design/corner-geometry.ts";
import { reshaped, SHAPE_WORDS } from "../../src/core/design/section-shapes.ts";
import { cornerOf } from "../../src/core/design/sides.ts";
import { ARM_LAYOUTS, type Scenario, SIDES } from "../../src/core/design/types.ts";
import type { Random } from "../../src/core/numerics/random.ts";
import { singleChanges } from "../../src/core/studies/change-list.ts";
import type { ArmHandleId } from "../../src/pages/arm/picture/handles.ts";
import {
  type ArmChoice,
  armOn,
  changeName,
  type Grid,
  KEEPS,
  madeAlike,
  relaid,
  stepOf,
  takesFromB,
  withArm,
  withMeasure,
} from "../../src/pages/arm/state/edits.ts";
import { addStage, dropStage, setCarMass, setDrive, setDriven, setStage, setWheelRadius } from "../../src/pages/map/state/drive-edits.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import type { Doc } from "../../src/state/document.ts";
import { type Edit, numberFor, passes, someSide } from "./desk.ts";
import { pick } from "./fuzzer.ts";

const armChoice = (random: Random): ArmChoice => ({ name: pick(random, ["upper", "lower"] as const), side: pick(random, [null, null, ...SIDES]) });

export const arm: Edit = ({ random, store }) => {
  const choice = armChoice(random);
  const doc = store.settled();
  const shown = choice.side ?? someSide(random);
  const mine = armOn(doc.a, shown, choice.name);
  const change = (name: string, a: Scenario): void => void (a !== doc.a && store.act(name, (d) => ({ ...d, a })));
  switch (random.whole(0, 4)) {
    case 0: {
      const made = relaid(doc.a, choice, mine, armLengthMm(cornerOf(doc.a, shown), choice.name), pick(random, ARM_LAYOUTS), pick(random, KEEPS));
      return change(made.name, made.scenario);
    }
    case 1: {
      const shape = pick(random, Object.keys(SHAPE_WORDS) as (keyof typeof SHAPE_WORDS)[]);
      return change("shape", withArm(doc.a, choice, "section", reshaped(mine.section, shape, doc.a.holePitchMm)));
    }
    case 2:
      return change("material", withArm(doc.a, choice, "material", pick(random, MATERIAL_NAMES)));
    case 3:
      return change("alike", madeAlike(doc.a, choice.name, mine));
    default: {
      const row = pick(random, takesFromB(doc, choice, shown));
      if (row.scenario) change(row.name, row.scenario);
    }
  }
};

const ARM_HANDLES: readonly ArmHandleId[] = ["fork", "spreadFront", "spreadRear", "height", "width"];

export const armHandle: Edit = ({ random, store }) => {
  const choice = armChoice(random);
  const id = pick(random, ARM_HANDLES);
  const start = store.settled();
  const mine = armOn(start.a, choice.side ?? "right", choice.name);
  const lengthMm = random.between(20, 120);
  const grid = pick<Grid>(random, ["coarse", "half", "fine"]);
  const moved = (): Doc => {
    const a = withMeasure(start.a, choice, mine, lengthMm, id, random.between(-30, 160), stepOf(id, grid, start.a.holePitchMm));
    return a === start.a ? start : { ...start, a };
  };
  const last = (doc: Doc) => changeName(choice, armOn(doc.a, choice.side ?? "right", choice.name), lengthMm, id, doc.a.holePitchMm);
  if (random.next() < 0.4) {
    const next = moved();
    if (next !== start) store.actMerged(`arm.${id}`, last(next), () => next);
    return;
  }
  for (let n = random.whole(1, 3); n > 0; n--) store.preview(moved());
  if (random.next() < 0.8) store.commit(last(store.get().doc));
  else store.cancel();
};

export const drive: Edit = ({ random, store }) => {
  const { drive: now } = store.settled().a;
  const index = random.whole(0, Math.max(0, now.stages.length - 1));
  const number = (path: string) => numberFor(random, rangeOf(path) as { min: number; max: number }, rangeOf(path) as { min: number; max: number });
  const kind = random.whole(0, 5);
  if (kind === 0) for (let n = random.whole(1, 11); n > 0; n--) store.act("add a gear stage", addStage);
  else if (kind === 1) passes(store.act("remove a gear stage", (d) => dropStage(d, index)));
  else if (kind === 2) {
    const key = pick(random, ["drivingTeeth", "drivenTeeth", "efficiency"] as const);
    store.actMerged(`drive.stage.${index}.${key}`, key, (d) => setStage(d, index, key, number(`drive.stages[0].${key}`)));
  } else if (kind === 3) store.actMerged("drive.wheel", "wheel radius", (d) => setWheelRadius(d, number("corner.wheel.radiusMm")));
  else {
    if (random.next() < 0.15) {
      store.actMerged("drive.car", "whole car", (d) => setCarMass(d, number("body.carMassKg")));
      return;
    }
    if (random.next() < 0.15) {
      store.actMerged("drive.driven", "top speed driven", (d) => setDriven(d, random.next() < 0.3 ? null : number("drive.topSpeedDrivenKmh")));
      return;
    }
    const keys = ["drivenWheels", "motorsPerWheel", "stallTorqueNmm", "noLoadRpm", "rollingResistance", "dragNPerMps2"] as const;
    const key = pick(random, keys);
    store.actMerged(`drive.${key}`, key, (d) => setDrive(d, key, number(`drive.${key}`)));
  }
};

export const tracks: Edit = ({ random, store }) => {
  const now = store.settled().a.tracks;
  const radiusM = numberFor(random, { min: 1, max: 20, step: 0.05 }, { min: 0.1, max: 1000 });
  if (random.next() < 0.6 || now.length === 0)
    store.act("keep a track", (d) => ({ ...d, a: { ...d.a, tracks: [...d.a.tracks, { name: `${radiusM.toFixed(2)} m`, radiusM }] } }));
  else {
    const gone = pick(random, now);
    store.act(`drop the track ${gone.name}`, (d) => ({ ...d, a: { ...d.a, tracks: d.a.tracks.filter((t) => t !== gone) } }));
  }
};

export const tryAsB: Edit = ({ random, store }) => {
  const change = pick(random, singleChanges(store.settled().a));
  store.act(`try as B: ${change.title}`, (d) => ({ ...d, b: change.scenario }));
};
