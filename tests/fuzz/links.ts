import { deflateRawSync, gzipSync } from "node:zlib";
import type { Random } from "../../src/core/numerics/random.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import type { Doc } from "../../src/state/document.ts";
import { openLink, toHash } from "../../src/state/link.ts";
import { shippedTexts } from "./files.ts";
import { claim, claimLine, type Fuzzer, fuzz } from "./fuzzer.ts";
import { mutateText, mutateToken, mutateValue } from "./mutate.ts";

const LETTERS = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_=%.+/ "];

function documents(): Doc[] {
  const cars = shippedTexts().map((text) => {
    const r = parseScenario(text, "shipped");
    if (!r.ok) throw new Error("a shipped scenario is refused");
    return r.scenario;
  });
  return cars.map((a, i) => ({ a, b: cars[(i + 1) % cars.length]!, load: { lateralG: 0.1 * i, bumpLeftMm: i, bumpRightMm: -i } }));
}

/** The letters changed as addresses are on their way: cut, doubled, a letter wrong, all in small letters, cut in lines. */
function damaged(random: Random, hash: string): string {
  const kind = random.next();
  if (kind < 0.05) return hash.toLowerCase();
  if (kind < 0.1) return hash.replace(/.{76}/g, "$&\n");
  let out = hash;
  for (let n = random.whole(1, 3); n > 0; n--) out = mutateText(random, out, LETTERS);
  return out;
}

/** A link that is whole, around a document that is not: made by hand or by an evil one. */
function wrongInside(random: Random, doc: Doc): string {
  const value = structuredClone(doc);
  for (let n = random.whole(1, 4); n > 0; n--) mutateValue(random, value);
  const text = random.next() < 0.7 ? JSON.stringify(value) : mutateToken(random, JSON.stringify(doc));
  return random.next() < 0.5 ? `w2.${gzipSync(text).toString("base64url")}` : `w1.${deflateRawSync(text).toString("base64url")}`;
}

/** Damaged and wrong share links. */
export const fuzzLinks: Fuzzer = async (seed, count) => {
  const docs = documents();
  const hashes = await Promise.all(docs.map(toHash));
  const make = (random: Random) => {
    const i = random.whole(0, docs.length - 1);
    const inside = random.next() < 0.25;
    const hash = inside ? wrongInside(random, docs[i]!) : damaged(random, hashes[i]!);
    return { i, inside, hash: random.next() < 0.5 ? `#${hash}` : hash };
  };
  return fuzz("links", seed, count, {
    make,
    check: async ({ i, inside, hash }) => {
      const r = await openLink(hash);
      if (!r.ok) {
        claim(r.lines.length > 0 && r.lines.length <= 5, `${r.lines.length} lines`);
        r.lines.slice(0, 4).forEach(claimLine);
        return inside ? "wrong document refused" : "damage refused";
      }
      if (!inside) {
        claim(JSON.stringify(r.doc) === JSON.stringify(docs[i]), "a damaged link opens as another design");
        return hash.endsWith(hashes[i]!) ? "whole" : "damage without effect";
      }
      const again = await openLink(await toHash(r.doc));
      claim(again.ok && JSON.stringify(again.doc) === JSON.stringify(r.doc), "what was opened does not come back from its own link");
      return "changed document opened";
    },
  });
};
