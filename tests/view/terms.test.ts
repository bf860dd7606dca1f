import { describe, expect, it } from "vitest";
import { FIELD_NAMES } from "../../src/core/design/field-names.ts";
import { SKETCHES } from "../../src/ui/help-sketches.ts";
import { TERMS, termHead, termOfField } from "../../src/view/terms.ts";

describe("the file of terms", () => {
  it("tells each in one sentence, under a plain word of its own", () => {
    for (const [key, term] of TERMS) {
      expect(term.text, key).toMatch(/^[A-Z0-9][^\n]*\.$/);
      expect(term.text.match(/[.!?](?= |$)/g), key).toHaveLength(1);
      expect(term.plain, key).not.toMatch(/\(/);
    }
    expect(new Set([...TERMS.values()].map((t) => t.plain)).size).toBe(TERMS.size);
  });

  it("explains fields that there are, and every sketch has its term", () => {
    const explained = new Set([...FIELD_NAMES.keys()].map(termOfField));
    for (const [key, term] of TERMS) if (term.fields) expect(explained.has(key), key).toBe(true);
    expect(Object.keys(SKETCHES).filter((key) => !TERMS.has(key))).toEqual([]);
  });

  it("finds the term of a field on either side and of any pin, and heads it by plain word, trade word and unit", () => {
    expect(termOfField("corner.joints.lowerInner.clearanceMm")).toBe("play");
    expect(termOfField("joints.upperOuter.pullOutN")).toBe("pullOut");
    expect(termOfField("loadCases[2].lateralG")).toBe("cornering");
    expect(termOfField("hub.heat.material.yieldMPa")).toBe("yield");
    expect(termOfField("name")).toBeNull();
    const camber = TERMS.get("camber");
    expect(camber && termHead(camber)).toBe("Lean (camber), °");
  });
});
