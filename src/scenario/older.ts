import { isPlain, type Plain } from "../core/design/plain.ts";

/**
 * Files of version 1 told nothing of how their values are known: all of them count as entered.
 */
const VERSION_NOW = 2;
const sinceVersion1 = (data: Plain): Plain => (data["version"] === 1 ? { ...data, version: VERSION_NOW } : data);

/**
 * What files held before the car's weight had one place: `body.sprungMassKg`, the mass on this axle's springs, beside `drive.carMassKg`.
 * They are read as the whole car and this axle's share of it.
 */

interface OldNumber {
  path: readonly [string, string];
  min: number;
  max: number;
}
const SPRUNG: OldNumber = { path: ["body", "sprungMassKg"], min: 0, max: 30 };
const CAR: OldNumber = { path: ["drive", "carMassKg"], min: 0.05, max: 100 };
/** what a file without a drive stood for, kg */
const CAR_KG = 5;

/** a share of 0.5800000000000001 helps nobody; what this leaves out is far below what a scale tells */
const FINE = 1e12;

/** An old field that holds no number of its range. */
export interface OldFault {
  path: string;
  value: unknown;
  allowed: string;
}

const kgAt = (data: Plain, side: string): number => {
  const wheel = isPlain(data[side]) ? data[side]["wheel"] : undefined;
  const kg = isPlain(wheel) ? wheel["unsprungMassKg"] : undefined;
  return typeof kg === "number" ? kg : Number.NaN;
};

/** What both corners carry below their springs, kg; what is no number is told when the file is read. */
const unsprungKg = (data: Plain): number =>
  ["left", "right"].reduce((sum, side) => {
    const own = kgAt(data, side);
    const shared = kgAt(data, "corner");
    return sum + (Number.isNaN(own) ? (Number.isNaN(shared) ? 0 : shared) : own);
  }, 0);

/** The file's value in today's fields, or what is wrong with an old one; any other value comes back as it is. */
export function fromOlder(file: unknown): { ok: true; value: unknown } | { ok: false; faults: OldFault[] } {
  if (!isPlain(file)) return { ok: true, value: file };
  const data = sinceVersion1(file);
  if (!isPlain(data["body"])) return { ok: true, value: data };
  const { sprungMassKg: sprung, ...body } = data["body"];
  // a file that tells both is none of either time
  if (sprung === undefined || "carMassKg" in body || "axleShare" in body) return { ok: true, value: data };
  const { carMassKg: car = CAR_KG, ...drive } = isPlain(data["drive"]) ? data["drive"] : {};
  const faults = [
    [SPRUNG, sprung],
    [CAR, car],
  ].flatMap(([field, value]) => {
    const { path, min, max } = field as OldNumber;
    const fits = typeof value === "number" && value >= min && value <= max;
    return fits ? [] : [{ path: path.join("."), value, allowed: `${min} to ${max} kg` }];
  });
  if (faults.length > 0) return { ok: false, faults };
  const axleKg = (sprung as number) + unsprungKg(data);
  // the axle decides: a car that weighs less than it was a slip of the drive's own number
  const carMassKg = Math.max(car as number, axleKg);
  const value: Plain = { ...data, body: { carMassKg, axleShare: Math.round((axleKg / carMassKg) * FINE) / FINE, ...body } };
  if (isPlain(data["drive"])) value["drive"] = drive;
  return { ok: true, value };
}
