import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/**
 * CalculiX (Debian package calculix-ccx), a finite-element program that shares nothing with this one: decks are
 * written here, run in a folder of their own, and their .dat is read back.
 */
function hasCcx(): boolean {
  return spawnSync("ccx", ["-v"], { encoding: "utf8" }).error === undefined;
}

/**
 * Whether to run the tests against CalculiX: yes when it is there. Where it is missing this is said out loud, and in
 * continuous integration (CI=true) it is an error.
 */
export function ccxOrExplain(what: string): boolean {
  if (hasCcx()) return true;
  if (process.env["CI"] === "true") throw new Error(`ccx is not installed, so ${what} cannot be checked (apt-get install calculix-ccx)`);
  console.warn(`LEFT OUT: ${what} against CalculiX, because ccx is not installed (apt-get install calculix-ccx)`);
  return false;
}

/** longest run of a deck, ms */
const TIMEOUT_MS = 60000;

/** Runs a deck and hands back what it printed into its .dat file. */
export function runCcx(deck: string): { dat: string } {
  const folder = mkdtempSync(join(tmpdir(), "wheelstay-ccx-"));
  try {
    writeFileSync(join(folder, "job.inp"), deck);
    const out = execFileSync("ccx", ["-i", "job"], { cwd: folder, encoding: "utf8", timeout: TIMEOUT_MS, env: { ...process.env, OMP_NUM_THREADS: "1" } });
    if (/\*ERROR/.test(out))
      throw new Error(
        `ccx: ${out
          .split("\n")
          .filter((l) => l.includes("*ERROR"))
          .join("; ")}`,
      );
    return { dat: readFileSync(join(folder, "job.dat"), "utf8") };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Tables of `*NODE PRINT` with U, one per step or increment in order: node -> displacement. */
export function ccxDisplacements(dat: string): Map<number, [number, number, number]>[] {
  const tables: Map<number, [number, number, number]>[] = [];
  let table: Map<number, [number, number, number]> | null = null;
  for (const line of dat.split("\n")) {
    if (/^ *displacements/.test(line)) {
      table = new Map();
      tables.push(table);
      continue;
    }
    const m = line.trim().split(/\s+/).map(Number);
    if (table && m.length === 4 && m.every(Number.isFinite)) table.set(m[0]!, [m[1]!, m[2]!, m[3]!]);
    else if (table && table.size > 0) table = null;
  }
  return tables;
}

/** Last table of `*EL PRINT` with that many numbers after element and integration point: rows of element and numbers. */
export function ccxAtPoints(dat: string, title: RegExp, numbers: number): { element: number; values: number[] }[] {
  let rows: { element: number; values: number[] }[] = [];
  let within = false;
  for (const line of dat.split("\n")) {
    const m = line.trim().split(/\s+/).map(Number);
    if (title.test(line)) {
      rows = [];
      within = true;
    } else if (/[a-z]{3}/.test(line)) within = false;
    else if (within && m.length === numbers + 2 && m.every(Number.isFinite)) rows.push({ element: m[0]!, values: m.slice(2) });
  }
  return rows;
}

/** Factors of a `*BUCKLE` step, lowest first as printed. */
export function ccxBucklingFactors(dat: string): number[] {
  const start = dat.search(/B U C K L I N G/);
  if (start < 0) return [];
  const out: number[] = [];
  for (const line of dat.slice(start).split("\n").slice(1)) {
    const m = line.trim().split(/\s+/).map(Number);
    if (m.length === 2 && m.every(Number.isFinite)) out.push(m[1]!);
    else if (out.length > 0) break;
  }
  return out;
}
