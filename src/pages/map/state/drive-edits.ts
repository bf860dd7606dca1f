import type { Drive } from "../../../core/design/types.ts";
import type { Doc } from "../../../state/document.ts";
import { withCorner } from "../../../state/edit.ts";

export type DriveNumber = Exclude<keyof Drive, "stages" | "topSpeedDrivenKmh">;
export type StageNumber = keyof Drive["stages"][number];

const withDrive = (doc: Doc, patch: Partial<Drive>): Doc => ({ ...doc, a: { ...doc.a, drive: { ...doc.a.drive, ...patch } } });

export const setDrive = (doc: Doc, key: DriveNumber, value: number): Doc => (doc.a.drive[key] === value ? doc : withDrive(doc, { [key]: value }));

/** The top speed that was really driven, km/h; null: not driven yet. The motors' own numbers stay as they are. */
export const setDriven = (doc: Doc, kmh: number | null): Doc => (doc.a.drive.topSpeedDrivenKmh === kmh ? doc : withDrive(doc, { topSpeedDrivenKmh: kmh }));

/** The whole car's weight: the one that the axle counts with, too; its share on the axle stays. */
export const setCarMass = (doc: Doc, kg: number): Doc =>
  doc.a.body.carMassKg === kg ? doc : { ...doc, a: { ...doc.a, body: { ...doc.a.body, carMassKg: kg } } };

export function setStage(doc: Doc, index: number, key: StageNumber, value: number): Doc {
  const { stages } = doc.a.drive;
  if (!stages[index] || stages[index][key] === value) return doc;
  return withDrive(doc, { stages: stages.map((s, i) => (i === index ? { ...s, [key]: value } : s)) });
}

/** a pair that slows down by about two, as a first guess for one more stage */
const NEW_STAGE = { drivingTeeth: 20, drivenTeeth: 40, efficiency: 0.9 };

export const addStage = (doc: Doc): Doc => withDrive(doc, { stages: [...doc.a.drive.stages, NEW_STAGE] });
export const dropStage = (doc: Doc, index: number): Doc => withDrive(doc, { stages: doc.a.drive.stages.filter((_, i) => i !== index) });

/** The wheel's radius on both sides. The wheel centres stay where they are, so that the car stands higher or lower. */
export function setWheelRadius(doc: Doc, radiusMm: number): Doc {
  if (doc.a.corner.wheel.radiusMm === radiusMm) return doc;
  const a = (["left", "right"] as const).reduce((s, side) => withCorner(s, side, "wheel.radiusMm", radiusMm), doc.a);
  return { ...doc, a: withCorner(a, null, "wheel.radiusMm", radiusMm) };
}
