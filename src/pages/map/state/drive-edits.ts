import type { Drive } from "../../../core/design/types.ts";
import type { Doc } from "../../../state/document.ts";
import { withCorner } from "../../../state/edit.ts";

/** What the drive's panel asks for, one after the other; motors as a count of the whole car. */
export const DRIVE_NUMBERS = [
  "drivenWheels",
  "motorsPerWheel",
  "stallTorqueNmm",
  "noLoadRpm",
  "rollingResistance",
  "dragNPerMps2",
] as const satisfies readonly Exclude<keyof Drive, "stages">[];
export type DriveNumber = (typeof DRIVE_NUMBERS)[number];
export const STAGE_NUMBERS = ["drivingTeeth", "drivenTeeth", "efficiency"] as const satisfies readonly (keyof Drive["stages"][number])[];
export type StageNumber = (typeof STAGE_NUMBERS)[number];

const withDrive = (doc: Doc, patch: Partial<Drive>): Doc => ({ ...doc, a: { ...doc.a, drive: { ...doc.a.drive, ...patch } } });

export const setDrive = (doc: Doc, key: DriveNumber, value: number): Doc => (doc.a.drive[key] === value ? doc : withDrive(doc, { [key]: value }));

/** Motors in the whole car: nobody builds in half a motor, but one may drive several wheels. */
export const motorsOf = (d: Drive): number => Math.round(d.motorsPerWheel * d.drivenWheels * 1e6) / 1e6;

/** A share of a motor that gives the whole count back when it is read. */
const perWheel = (motors: number, wheels: number): number => Math.max(0.05, Math.min(16, motors / wheels));

export const setMotors = (doc: Doc, motors: number): Doc =>
  motorsOf(doc.a.drive) === motors ? doc : withDrive(doc, { motorsPerWheel: perWheel(motors, doc.a.drive.drivenWheels) });

/** More or fewer wheels on the motors that there are. */
export const setDrivenWheels = (doc: Doc, wheels: number): Doc =>
  doc.a.drive.drivenWheels === wheels ? doc : withDrive(doc, { drivenWheels: wheels, motorsPerWheel: perWheel(motorsOf(doc.a.drive), wheels) });

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
