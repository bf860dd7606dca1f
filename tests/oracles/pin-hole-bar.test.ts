import { describe, it } from "vitest";
import { sectionProperties } from "../../src/core/arm/sections.ts";
import type { Section } from "../../src/core/design/types.ts";
import { lines } from "../support/arm-solid.ts";
import { ccxDisplacements, ccxOrExplain, runCcx } from "../support/ccx.ts";
import { expectRel } from "../support/close.ts";

/** an estimate: a row of round holes has no closed form */
const HOLES = 0.03;
const E = 2400;
const NU = 0.35;
const CELLS = 10;

const run = ccxOrExplain("the stiffness of a bar with pin holes");

/**
 * Plane-stress bar (depth across the holes, thickness along them) of square cells with a round hole each, clamped at
 * x = 0; eight-node quadrilaterals between each hole and the outline of its cell.
 */
function holedBar(height: number, thickness: number, hole: number, pitch: number): { model: string; left: number[]; right: number[] } {
  const PER_SIDE = 6;
  const RINGS = 6;
  const ids = new Map<string, number>();
  const nodes: string[] = [];
  const place: [number, number][] = [];
  const node = (x: number, z: number) => {
    const key = `${x.toFixed(6)},${z.toFixed(6)}`;
    const known = ids.get(key);
    if (known !== undefined) return known;
    const id = ids.size + 1;
    ids.set(key, id);
    nodes.push(`${id},${key}`);
    place.push([x, z]);
    return id;
  };
  const elements: string[] = [];
  const around = 4 * PER_SIDE;
  // point of the cell: s counts half elements around, r half rings from the hole outwards
  const point = (cell: number, s: number, r: number) => {
    const q = ((s % (2 * around)) + 2 * around) % (2 * around);
    const side = Math.floor(q / (2 * PER_SIDE));
    const t = (q % (2 * PER_SIDE)) / PER_SIDE - 1;
    const edge = [
      [1, t],
      [-t, 1],
      [-1, -t],
      [t, -1],
    ][side]!;
    const x = (edge[0]! * pitch) / 2;
    const z = (edge[1]! * height) / 2;
    const angle = Math.atan2(edge[1]!, edge[0]!);
    const w = r / (2 * RINGS);
    const cx = (hole / 2) * Math.cos(angle);
    const cz = (hole / 2) * Math.sin(angle);
    return node((cell + 0.5) * pitch + cx + w * (x - cx), cz + w * (z - cz));
  };
  for (let cell = 0; cell < CELLS; cell++) {
    for (let s = 0; s < 2 * around; s += 2) {
      for (let r = 0; r < 2 * RINGS; r += 2) {
        const c: [number, number][] = [
          [s, r],
          [s, r + 2],
          [s + 2, r + 2],
          [s + 2, r],
          [s, r + 1],
          [s + 1, r + 2],
          [s + 2, r + 1],
          [s + 1, r],
        ];
        elements.push(`${elements.length + 1},${c.map(([a, b]) => point(cell, a, b)).join(",")}`);
      }
    }
  }
  const at = (x: number) => place.flatMap((p, i) => (Math.abs(p[0] - x) < 1e-5 ? [i + 1] : []));
  const model = [
    "*NODE",
    ...nodes.map((n) => `${n},0.`),
    "*ELEMENT,TYPE=CPS8,ELSET=EALL",
    ...elements,
    "*MATERIAL,NAME=M",
    "*ELASTIC",
    `${E},${NU}`,
    "*SOLID SECTION,ELSET=EALL,MATERIAL=M",
    `${thickness}`,
  ].join("\n");
  return { model, left: at(0), right: at(CELLS * pitch) };
}

describe.runIf(run)("bar with pin holes against plane stress in CalculiX", () => {
  it.each([
    { hole: 4.8, pitch: 8 },
    { hole: 3, pitch: 8 },
    { hole: 4, pitch: 12 },
  ])("holes of $hole mm every $pitch mm: stretching, bending by a moment, bending by a force", ({ hole, pitch }) => {
    const [h, w] = [8, 8];
    const bar = holedBar(h, w, hole, pitch);
    const step = (loads: string[]) => ["*STEP", "*STATIC", "*CLOAD,OP=NEW", ...loads, "*NODE PRINT,NSET=END", "U", "*END STEP"];
    const heights = new Map(
      bar.model.split("\n").flatMap((l) => {
        const v = l.split(",").map(Number);
        return v.length === 4 && v.every(Number.isFinite) ? [[v[0]!, v[2]!] as const] : [];
      }),
    );
    const sum2 = bar.right.reduce((s, n) => s + heights.get(n)! ** 2, 0);
    const deck = [
      bar.model,
      "*NSET,NSET=LEFT",
      lines(bar.left),
      "*NSET,NSET=END",
      lines(bar.right),
      "*BOUNDARY",
      "LEFT,1,2",
      ...step(bar.right.map((n) => `${n},1,${1 / bar.right.length}`)),
      ...step(bar.right.map((n) => `${n},1,${-heights.get(n)! / sum2}`)),
      ...step(bar.right.map((n) => `${n},2,${1 / bar.right.length}`)),
      "",
    ].join("\n");
    const tables = ccxDisplacements(runCcx(deck).dat);
    const mean = (step: number, c: number) => bar.right.reduce((s, n) => s + tables[step]!.get(n)![c]!, 0) / bar.right.length;
    const L = CELLS * pitch;
    const p = sectionProperties({ shape: "pinHoleBar", widthMm: w, heightMm: h, holeMm: hole, holePitchMm: pitch, holesRun: "foreAft" } as Section, NU);
    expectRel(L / (E * p.area), mean(0, 0), HOLES, "stretch (mm/N)");
    expectRel(L ** 2 / (2 * E * p.iVertical), mean(1, 1), HOLES, "bending by a moment (mm per N·mm)");
    const G = E / (2 * (1 + NU));
    expectRel(L ** 3 / (3 * E * p.iVertical) + L / (G * p.shearAreaVertical), mean(2, 1), HOLES, "bending by a force (mm/N)");
  });
});
