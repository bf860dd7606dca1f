import { withOrigins } from "../../core/design/origins.ts";
import type { Hand } from "../../core/studies/curve-options.ts";
import type { ShelfKind } from "../../scenario/shelf-kinds.ts";
import { cannotBuild } from "../../state/cannot-build.ts";
import type { Doc } from "../../state/document.ts";
import type { Store } from "../../state/store.ts";
import { createOriginFields } from "../../ui/origin-fields.ts";
import { createShelfHand } from "../../ui/shelf-hand.ts";
import { todayHere } from "../../ui/today.ts";
import { fixed } from "../../view/format.ts";
import { createMemo } from "../../view/marks.ts";
import { howOf, knownName } from "../../view/origin-words.ts";
import { createDrive } from "./panels/drive.ts";
import { driveNumbers, heatAtSpeed } from "./picture/drive-words.ts";
import { addStage, dropStage, setCarMass, setDrive, setDriven, setDrivenWheels, setMotors, setStage, setWheelRadius } from "./state/drive-edits.ts";
import { mapSlice } from "./state/slice.ts";

export interface MapDrive {
  el: HTMLElement;
  update(hand: Hand, radiusM: number, kmh: number): void;
}

const STAGE_WORDS = { drivingTeeth: "driving gear", drivenTeeth: "driven gear", efficiency: "gear stage passes on" } as const;
const USUAL_MINUTES = 5;
const MOTOR: readonly ShelfKind[] = ["motor"];
const short = (v: number): string => fixed(v, 3).replace(/\.?0+$/, "");

/** The drive's panel on the store: every edit is one named change of design A. */
export function createMapDrive(store: Store, say: (text: string) => void, redraw: () => void): MapDrive {
  const memo = createMemo();
  let steerM: number | null = null;
  let carKmh: number | null = null;
  let minutes = USUAL_MINUTES;
  const shelf = createShelfHand({ store, say, resized: redraw });
  const origins = createOriginFields({
    set: (path, origin, typed) => {
      const name = knownName(path, howOf(origin ?? undefined));
      const change = (d: Doc): Doc => ({ ...d, a: withOrigins(d.a, { [path]: origin }) });
      if (typed) store.actMerged(`known.${path}`, name, change);
      else store.act(name, change);
      redraw();
    },
    today: todayHere,
  });
  const panel = createDrive({
    shelf: shelf.el,
    origins,
    toggle: (open) => {
      if (mapSlice.of(store.get().view).drive !== open) store.setView(mapSlice.patched(store.get().view, { drive: open }));
    },
    carMass: (kg, words) => store.actMerged("drive.car", `${words} to ${short(kg)}`, (d) => setCarMass(d, kg)),
    driven: (kmh) => store.actMerged("drive.driven", kmh === null ? "no top speed driven" : `top speed driven ${short(kmh)} km/h`, (d) => setDriven(d, kmh)),
    set: (key, value, words) =>
      store.actMerged(`drive.${key}`, `${words} to ${short(value)}`, (d) => (key === "drivenWheels" ? setDrivenWheels(d, value) : setDrive(d, key, value))),
    motors: (count) => store.actMerged("drive.motors", `${count} ${count === 1 ? "motor" : "motors"} in the whole car`, (d) => setMotors(d, count)),
    wheelRadius: (mm) => {
      const fault = cannotBuild(setWheelRadius(store.settled(), mm).a);
      if (fault) say(fault);
      else store.actMerged("drive.wheel", `wheel radius to ${short(mm)} mm`, (d) => setWheelRadius(d, mm));
      redraw();
    },
    stage: (index, key, value) =>
      store.actMerged(
        `drive.stage.${index}.${key}`,
        `${STAGE_WORDS[key]} to ${key === "efficiency" ? `${short(100 * value)} %` : `${short(value)} teeth`}`,
        (d) => setStage(d, index, key, value),
      ),
    addStage: () => store.act("add a gear stage", addStage),
    dropStage: (index) => store.act(`remove gear stage ${index + 1}`, (d) => dropStage(d, index)),
    steer: (m) => {
      steerM = m;
      redraw();
    },
    speed: (kmh) => {
      carKmh = kmh;
      redraw();
    },
    minutes: (min) => {
      minutes = min;
      redraw();
    },
  });
  return {
    el: panel.el,
    update(hand, radiusM, kmh) {
      const s = store.get();
      const steer = steerM ?? radiusM;
      const speed = carKmh ?? kmh;
      const numbers = memo("numbers", [s.doc.a, hand, steer, speed], () => driveNumbers(s.doc.a, hand, steer, speed));
      const heat = mapSlice.of(s.view).drive ? memo("heat", [s.doc.a, steer, speed, minutes], () => heatAtSpeed(s.doc.a, steer, speed, minutes)) : null;
      shelf.update({ kinds: MOTOR, sides: "both" });
      origins.update(s.doc.a);
      panel.update({ scenario: s.doc.a, numbers, heat, steerM: steer, carKmh: speed, minutes, open: mapSlice.of(s.view).drive });
    },
  };
}
