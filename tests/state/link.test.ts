import { deflateRawSync, gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { createRandom } from "../../src/core/numerics/random.ts";
import { CAPS } from "../../src/scenario/caps.ts";
import type { Doc } from "../../src/state/document.ts";
import { isLink, openLink, toHash } from "../../src/state/link.ts";
import { scenarioFile } from "../view/fixture.ts";

const doc: Doc = { a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 2 } };
const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

// links as they are made, by Node's own zlib
const old = (text: string): string => `w1.${deflateRawSync(text).toString("base64url")}`;
const now = (text: string): string => `w2.${gzipSync(text).toString("base64url")}`;
const linesOf = async (hash: string): Promise<string[]> => {
  const r = await openLink(hash);
  return r.ok ? [] : r.lines;
};

describe("a link", () => {
  it("holds the whole document in letters that an address can hold", async () => {
    const hash = await toHash(doc);
    expect(hash).toMatch(/^w2\.[A-Za-z0-9_-]+$/);
    expect(isLink(`#${hash}`)).toBe(true);
    expect(await openLink(`#${hash}`)).toEqual({ ok: true, doc });
    expect(await openLink(now(JSON.stringify(doc)))).toEqual({ ok: true, doc });
  });

  it("of the first version, without a checksum, still opens", async () => {
    expect(isLink(`#${old("{}")}`)).toBe(true);
    expect(await openLink(`#${old(JSON.stringify(doc))}`)).toEqual({ ok: true, doc });
  });

  it("of designs of version 1 opens with all values entered", async () => {
    const then = ({ origins: _, ...s }: Scenario): object => ({ ...s, version: 1 });
    expect(await openLink(now(JSON.stringify({ ...doc, a: then(doc.a), b: then(doc.b) })))).toEqual({ ok: true, doc });
  });

  it("from when the axle told what its springs carry, and the drive the car, opens as the same car", async () => {
    const { carMassKg, axleShare: _, ...body } = doc.a.body;
    // two corners of 0.35 kg below the springs: 2.9 kg of 5 kg
    const then = { ...doc.a, body: { sprungMassKg: 2.2, ...body }, drive: { carMassKg, ...doc.a.drive } };
    expect(await openLink(now(JSON.stringify({ ...doc, a: then })))).toEqual({ ok: true, doc });
  });

  it("of a later version says that it is one", async () => {
    expect(isLink("#w3.abc")).toBe(true);
    expect(await linesOf("#w3.abc")).toEqual(["The link is of version 3, which this page does not know (it knows up to 2); nothing was opened."]);
  });

  it("that is cut short, longer or no link at all says so", async () => {
    const hash = await toHash(doc);
    for (const bad of [hash.slice(0, 200), hash.slice(0, -3), `${hash.slice(0, -8)}!`, "w2.", old("[1"), now('{"a":1,"\\u0061":2}')])
      expect(await linesOf(bad)).toEqual(["The link is cut short or changed; nothing was opened."]);
    expect(isLink("#elsewhere")).toBe(false);
    expect(await linesOf("#elsewhere")).toEqual(["The link is no Wheelstay link; nothing was opened."]);
  });

  it("with one letter changed never opens as another design", async () => {
    const hash = await toHash(doc);
    const random = createRandom(1);
    for (let i = 0; i < 300; i++) {
      const at = random.whole(3, hash.length - 1);
      const bad = hash.slice(0, at) + LETTERS[random.whole(0, 63)] + hash.slice(at + 1);
      const r = await openLink(bad);
      if (r.ok) expect(r.doc).toEqual(doc);
    }
  });

  it("unpacks no further than a document can be", async () => {
    const blanks = `{"a":${" ".repeat(300_000_000)}1}`;
    for (const hash of [old(blanks), now(blanks)]) {
      expect(hash.length).toBeLessThan(500_000);
      const before = process.memoryUsage().arrayBuffers;
      expect(await linesOf(hash)).toEqual(["The link unpacks to more than two designs can have; nothing was opened."]);
      expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(60_000_000);
    }
    expect(await linesOf(`w2.${"A".repeat(2_000_000)}`)).toEqual(["The link has 2000003 letters, more than 2000000; nothing was opened."]);
  });

  it("holds the largest designs too", async () => {
    const random = createRandom(2);
    const points = () => Array.from({ length: 500 }, () => ({ sMm: random.between(-500, 500), zMm: random.between(-500, 500) }));
    const outlines = () => Array.from({ length: 50 }, () => ({ name: "", points: points(), closed: false, bothSides: true }));
    const large = () => ({ ...doc.a, fit: { ...doc.a.fit, outlines: outlines() } });
    const largest = { ...doc, a: large(), b: large() };
    const hash = await toHash(largest);
    expect(hash.length).toBeGreaterThan(0.4 * CAPS.linkLetters);
    const read = await openLink(hash);
    expect(read.ok && read.doc).toEqual(largest);
  });
});

describe("what a link holds is checked as a file is", () => {
  it.each<[string, object, RegExp]>([
    ["a load out of range", { load: { ...doc.load, lateralG: 1e300 } }, /^the link, load: lateralG is 1e\+300 g; allowed -3 to 3 g\.$/],
    ["a bump that is no number", { load: { ...doc.load, bumpLeftMm: null } }, /^the link, load: bumpLeftMm is null; allowed -60 to 60 mm\.$/],
    [
      "an unknown field of the load",
      { load: { ...doc.load, speed: 3 } },
      /^the link, load: speed is not a known field; allowed lateralG, bumpLeftMm, bumpRightMm, throttle, brakeG\.$/,
    ],
    ["no load", { load: undefined }, /^the link: it holds no two designs with a load\.$/],
    ["a load that is none", { load: 3 }, /^the link, load: it is 3; allowed an object with lateralG, bumpLeftMm, bumpRightMm, throttle, brakeG\.$/],
    ["a wrong design", { b: { ...doc.b, holePitchMm: 900 } }, /^the link, design B: holePitchMm is 900 mm; allowed 2 to 20 mm\.$/],
  ])("%s", async (_, change, line) => {
    expect(await linesOf(now(JSON.stringify({ ...doc, ...change })))).toEqual([expect.stringMatching(line)]);
  });

  it("many problems are counted", async () => {
    const many = Object.fromEntries(Array.from({ length: 1000 }, (_, i) => [`k${i}`, 0]));
    const lines = await linesOf(now(JSON.stringify({ ...doc, a: { ...doc.a, ...many } })));
    expect(lines).toHaveLength(5);
    expect(lines[4]).toBe("and 996 more");
  });
});
