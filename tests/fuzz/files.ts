import type { Random } from "../../src/core/numerics/random.ts";
import { CAPS } from "../../src/scenario/caps.ts";
import { jsonFault } from "../../src/scenario/json-text.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { textOfBytes } from "../../src/scenario/read-file.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { SHIPPED, shippedText } from "../support/shipped.ts";
import { claim, claimLine, type Fuzzer, fuzz, pick } from "./fuzzer.ts";
import { mutateText, mutateToken, mutateValue } from "./mutate.ts";

export const shippedTexts = (): string[] => SHIPPED.map(shippedText);

const LETTERS = [...'"\\{}[]:,.-+eE0123456789 \n\tabzMm', "\u0000", "\u001b", "\u009b", "\ud800", "é", "🛞", "\u2028"];

function mutatedBytes(random: Random, text: string): Uint8Array {
  const bytes = new TextEncoder().encode(text);
  for (let n = random.whole(1, 4); n > 0; n--) bytes[random.whole(0, bytes.length - 1)] = random.whole(0, 255);
  return bytes.subarray(random.next() < 0.1 ? random.whole(0, bytes.length) : 0);
}

function mutated(random: Random, text: string): Uint8Array {
  const kind = random.next();
  if (kind < 0.2) return mutatedBytes(random, text);
  let out = text;
  if (kind < 0.65) {
    const value: unknown = JSON.parse(text);
    for (let n = random.whole(1, 3); n > 0; n--) mutateValue(random, value);
    out = JSON.stringify(value);
  } else for (let n = random.whole(1, 2); n > 0; n--) out = kind < 0.85 ? mutateToken(random, out) : mutateText(random, out, LETTERS);
  return new TextEncoder().encode(out);
}

/** Claims about any text: no throw, valid or a few short lines, and what is read comes back the same when it is written. */
function claimRead(text: string, name: string): string {
  const r = parseScenario(text, name);
  if (!r.ok) {
    claim(r.problems.length > 0 && r.problems.length <= CAPS.problemsTold, `${r.problems.length} problems`);
    claim(r.more >= 0, "a count of further problems below 0");
    for (const p of r.problems) claimLine(p.message);
    return "refused";
  }
  const written = formatScenario(r.scenario);
  const again = parseScenario(written, name);
  claim(again.ok, "what was written is refused");
  claim(JSON.stringify(again.scenario) === JSON.stringify(r.scenario), "what was written reads otherwise");
  claim(formatScenario(again.scenario) === written, "what was read is written otherwise");
  return "read";
}

/** The scanner and the engine agree on what is JSON; only what the engine lets pass on purpose is refused by the scanner alone. */
function claimSameJson(text: string): void {
  const fault = jsonFault(text);
  let engine = true;
  try {
    JSON.parse(text);
  } catch {
    engine = false;
  }
  const stricter = fault !== null && /stands twice|nested too deep/.test(fault.message);
  claim(engine === (fault === null) || (engine && stricter), `the engine ${engine ? "takes" : "refuses"} it, the scanner says: ${fault?.message}`);
}

/** Damaged scenario files. */
export const fuzzFiles: Fuzzer = (seed, count) => {
  const texts = shippedTexts();
  return fuzz("files", seed, count, {
    make: (random) => mutated(random, pick(random, texts)),
    check: (bytes) => {
      const read = textOfBytes(bytes, "car.json");
      if (!read.ok) {
        claimLine(read.message);
        return "no text";
      }
      claimSameJson(read.text.replace(/^\uFEFF/, ""));
      return claimRead(read.text, "car.json");
    },
  });
};
