import { afterAll, beforeAll, expect, it } from "vitest";
import { weighGuesses } from "../../src/core/studies/guesses.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { type Folder, jsonOf, scratchFolder, wheelstay } from "../support/cli.ts";
import { shippedText } from "../support/shipped.ts";

const GUESSES = ["corner.hub.retention.capacityN", "body.axleShare", "corner.lowerArm.layout"];
const text = JSON.stringify({ ...JSON.parse(shippedText("heavy-straight.json")), origins: Object.fromEntries(GUESSES.map((p) => [p, { how: "guess" }])) });

let folder: Folder;
beforeAll(() => {
  folder = scratchFolder();
});
afterAll(() => folder.remove());

it("analyze tells how many guesses its answer rests on and which matter, and a car without any says so", async () => {
  const file = folder.text("guessed.json", text);
  const told = await wheelstay(["analyze", file]);
  expect(told.out).toMatch(/HOW ITS VALUES ARE KNOWN\nThe answer rests on 3 guesses\. First gives the hub lip at \d+ %;/);
  expect(told.out).toMatch(/\nwheel on its hub, straight pull that strips the lip \(± 21\.25 N\): \d+ to \d+ %\n/);
  expect(told.out).toContain("1 guess was not tried otherwise");
  expect((await wheelstay(["analyze", "scenarios/heavy-straight.json"])).out).toContain("The answer rests on no guess.");
});

it("analyze --json tells the same as the study", async () => {
  const read = parseScenario(text, "guessed");
  if (!read.ok) throw new Error(read.problems[0]?.message);
  const { lateralG, bumpLeftMm, bumpRightMm } = read.scenario.loadCases[0]!;
  const load = { lateralG, bumpLeftMm, bumpRightMm };
  const run = weighGuesses(read.scenario, load, { radiusM: 4, allowed: rangeOf });
  let step = run.next();
  while (!step.done) step = run.next();
  const study = JSON.parse(JSON.stringify(step.value)) as unknown;
  const { guesses } = await jsonOf<{ guesses: unknown }>(["analyze", folder.text("guessed.json", text), "--radius", "4"]);
  expect(guesses).toEqual(study);
});
