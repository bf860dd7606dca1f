import { describe, expect, it } from "vitest";
import { z } from "zod";
import { FIELD_NAMES, GROUP_NAMES } from "../../src/core/design/field-names.ts";
import { fieldName, pathName, pathWords, valueWords } from "../../src/core/design/field-words.ts";
import { EXPLANATIONS } from "../../src/core/limits/explain.ts";
import { unwrap } from "../../src/scenario/partial.ts";
import { scenarioSchema } from "../../src/scenario/schema.ts";

interface Leaf {
  /** "drive.stages[].drivenTeeth" */
  pattern: string;
  unit: string;
  number: boolean;
  choices: string[];
  nullable: boolean;
}

/** Every field of the definition that holds a value, and every group that may be null. */
function leavesOf(schema: z.core.$ZodType, pattern = "", nullable = false): { leaves: Leaf[]; nullGroups: string[] } {
  const at = unwrap(schema);
  const all = (parts: [z.core.$ZodType, string][]) => {
    const found = parts.map(([s, p]) => leavesOf(s, p));
    return { leaves: found.flatMap((f) => f.leaves), nullGroups: found.flatMap((f) => f.nullGroups) };
  };
  if (at instanceof z.ZodNullable) {
    const inner = leavesOf(at.unwrap(), pattern, true);
    return inner.leaves.length > 1 ? { ...inner, nullGroups: [...inner.nullGroups, pattern] } : inner;
  }
  if (at instanceof z.ZodObject)
    return all(Object.entries(at.shape as Record<string, z.core.$ZodType>).map(([key, s]) => [s, pattern ? `${pattern}.${key}` : key]));
  if (at instanceof z.ZodArray) return all([[at.element, `${pattern}[]`]]);
  if (at instanceof z.ZodUnion) return all(at.options.map((o) => [o, pattern]));
  const meta = (at as z.ZodType).meta() as { unit?: string } | undefined;
  const choices =
    at instanceof z.ZodEnum
      ? (at.options as string[])
      : at instanceof z.ZodLiteral && typeof at.value === "string" && !/^(\$schema|format)$/.test(pattern)
        ? [at.value]
        : [];
  return { leaves: [{ pattern, unit: meta?.unit ?? "", number: at instanceof z.ZodNumber, choices, nullable }], nullGroups: [] };
}

const { leaves, nullGroups } = leavesOf(scenarioSchema);
/** a path as it stands in a file */
const pathOf = (pattern: string): string => pattern.replaceAll("[]", "[1]");
const FIELD_WORD = /[a-z][A-Z]|[._]\w|NPerMm|Mm\b/;

describe("the names of the fields", () => {
  it("cover every field of the definition, on either side too", () => {
    expect(leaves.length).toBeGreaterThan(300);
    expect(leaves.filter((l) => !fieldName(pathOf(l.pattern))).map((l) => l.pattern)).toEqual([]);
    for (const l of leaves) {
      const words = pathWords(pathOf(l.pattern));
      expect(words, l.pattern).not.toMatch(FIELD_WORD);
      expect(words.length, l.pattern).toBeGreaterThan(3);
    }
  });

  it("name nothing that the definition does not have", () => {
    const known = new Set(leaves.map((l) => l.pattern));
    // these stand for any of the joints
    expect([...FIELD_NAMES.keys()].filter((k) => !known.has(k))).toEqual(["corner.joints.*.pullOutN", "corner.joints.*.clearanceMm"]);
  });

  it("carry the unit of the definition, shares in per cent", () => {
    for (const l of leaves.filter((x) => x.number)) {
      const f = fieldName(pathOf(l.pattern))!;
      expect(f.unit, l.pattern).toBe(f.percent ? "%" : l.unit);
      if (f.percent) expect(l.unit, l.pattern).toBe("");
    }
  });

  it("tell every choice in words, and what it means where there is none", () => {
    for (const l of leaves) {
      for (const c of l.choices) expect(fieldName(pathOf(l.pattern))!.values?.[c], `${l.pattern} = ${c}`).toBeDefined();
      if (l.nullable && l.number && !nullGroups.some((g) => l.pattern.startsWith(g))) expect(fieldName(pathOf(l.pattern))!.none, l.pattern).toBeDefined();
    }
    expect(nullGroups.length).toBeGreaterThan(2);
    for (const g of nullGroups) if (g.startsWith("corner.")) expect(GROUP_NAMES.get(g)?.none, g).toBeDefined();
  });

  it("are different for every field of one part", () => {
    const seen = new Map<string, string>();
    for (const l of leaves.filter((x) => !/^(left|right)\./.test(x.pattern))) {
      const words = pathWords(l.pattern);
      const other = seen.get(words);
      if (other !== undefined) expect(l.pattern, words).toBe(other);
      seen.set(words, l.pattern);
    }
  });

  it("read as a builder says them", () => {
    expect(pathWords("corner.lowerArm.section.heightMm")).toBe("lower arm, height of legs or bar, mm");
    expect(pathWords("corner.hub.tiltStiffnessNmmPerDeg")).toBe("hub bearing, stiffness against tilt, N·mm/°");
    expect(pathWords("right.upperInner.zMm")).toBe("right side only: upper inner pin, above the ground, mm");
    expect(pathWords("drive.stages[1].drivenTeeth")).toBe("gear stage 2, teeth of the driven gear");
    expect(pathWords("tyre.seat")).toBe("tyre on its rim, what holds it");
    expect(pathName("corner.upperOuter")).toBe("upper outer joint");
    expect(pathName("corner.spring.top")).toBe("spring, upper end");
    expect(pathName("body.cgHeightMm")).toBe("body, height of its centre of gravity");
    expect(pathWords("no.such.field")).toBe("no.such.field");
  });

  it("stand for every field that explains a limit", () => {
    const inputs = Object.values(EXPLANATIONS).flatMap((e) => e.inputs.filter((i) => /^[a-z]\w*(\.[\w*]+)+$/i.test(i)));
    expect(inputs.length).toBeGreaterThan(15);
    for (const i of inputs) expect(pathWords(i), i).not.toBe(i);
  });
});

describe("values in words", () => {
  it("tell choices, shares, nothing and groups", () => {
    expect(valueWords("corner.lowerArm.layout", "split")).toBe("fork (one stem, two legs)");
    expect(valueWords("corner.lowerArm.stemShare", 0.35)).toBe("35");
    expect(valueWords("corner.hub.staticCamberDeg", -0.5)).toBe("\u22120.5");
    expect(valueWords("corner.spring.freeLengthMm", 65.80000001)).toBe("65.8");
    expect(valueWords("corner.lowerArm.pivotFreeAboutArm", true)).toBe("yes");
    expect(valueWords("corner.tyre.crownRadiusMm", null)).toBe("flat");
    expect(valueWords("corner.lowerArm.stemSection", null)).toBe("as the legs");
    expect(valueWords("corner.lowerArm.material", "pa6gf30")).toBe("nylon 6, 30 % glass");
    expect(valueWords("corner.lowerArm.material", { name: "my resin", youngMPa: 2000 })).toBe("my resin");
    expect(valueWords("drive.stages", [{ drivingTeeth: 12, drivenTeeth: 40, efficiency: 0.9 }])).toBe("12 on 40 teeth");
    expect(valueWords("fit.outlines", [])).toBe("none");
    expect(valueWords("body.cgHeightMm", undefined)).toBe("–");
  });
});
