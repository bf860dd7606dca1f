import { cpus } from "node:os";
import { SHIPPED, shipped } from "../support/shipped.ts";
import { benchAnswer } from "./answer.ts";
import { benchDoubt } from "./doubt.ts";
import { proveCoverage, proveDerivatives } from "./doubt-proofs.ts";
import { benchCars, benchElements, benchEquilibrium } from "./equilibrium.ts";
import { benchLinkage } from "./linkage.ts";
import { benchMap } from "./map.ts";
import { benchNativeArms, benchSettling, benchSpeed } from "./motion.ts";
import { benchPage } from "./page.ts";
import { benchPush } from "./push.ts";
import { group } from "./timing.ts";

const forked = () => shipped("heavy-forked.json");
const cars = () => SHIPPED.map(shipped);

/** What can be measured by itself: `npm run bench -- motion map`. */
const GROUPS: Record<string, () => Promise<void>> = {
  equilibrium: async () => {
    await group(`One equilibrium of the axle (${forked().name})`, () => benchEquilibrium(forked()));
    await group("Cost against elements per arm", () => benchElements(forked()));
    await group("One equilibrium of every shipped car", () => benchCars(cars()));
  },
  linkage: () => group("The rigid linkage", benchLinkage),
  answer: () => group(`The whole answer at 0.8 g (${forked().name})`, () => benchAnswer(forked())),
  push: () => group("What a push along the road costs", () => benchPush(cars())),
  map: () => group("The speed map", () => benchMap(forked())),
  doubt: () => group(`How sure an answer is (${forked().name}, all of it guessed)`, () => benchDoubt(forked())),
  motion: async () => {
    await group("Motion: processor time for one second of it, everything included", () => benchSpeed(cars()));
    await group("Motion against the static solver", () => benchSettling(forked()));
    await group("One arm left to planck", benchNativeArms);
  },
  page: () => group("The page in a browser (no graphics card, plain canvas)", benchPage),
};

/** What takes minutes, and is run only where it is named. */
const PROOFS: Record<string, () => Promise<void>> = {
  "doubt-derivatives": () => group("Derivatives of first order against full solutions: outputs by inputs", () => proveDerivatives(cars())),
  "doubt-coverage": () =>
    group("How often a band holds the truth", () => proveCoverage(["heavy-forked.json", "worn-joints.json", "twin-tube-hub-spring.json"].map(shipped))),
};

/**
 * Prints medians, each as a time and as a multiple of the unit (`unit.ts`): compare the multiples, times only within one run. `args` name the groups to
 * run; none: all. Returns 1 when a name is none of them.
 */
export async function main(args: string[]): Promise<number> {
  const unknown = args.find((a) => !(a in GROUPS) && !(a in PROOFS));
  if (unknown !== undefined) {
    console.error(`The bench has no group "${unknown}"; it has ${Object.keys({ ...GROUPS, ...PROOFS }).join(", ")}.`);
    return 1;
  }
  console.log(`Node ${process.version}, ${cpus()[0]?.model ?? "unknown processor"}, ${cpus().length} cores`);
  for (const [name, run] of Object.entries(GROUPS)) if (args.length === 0 || args.includes(name)) await run();
  for (const [name, run] of Object.entries(PROOFS)) if (args.includes(name)) await run();
  return 0;
}
