import { cpus } from "node:os";
import { benchAnswer } from "./answer.ts";
import { benchCars, benchEquilibrium } from "./equilibrium.ts";
import { benchLinkage } from "./linkage.ts";
import { benchMap } from "./map.ts";
import { benchMotion } from "./motion.ts";
import { benchPage } from "./page.ts";
import { benchScenario, shippedFiles } from "./scenario.ts";
import { report } from "./timing.ts";

/** Prints medians and ratios; compare only what one run printed, machines differ. */
export async function main(): Promise<number> {
  console.log(`Node ${process.version}, ${cpus()[0]?.model ?? "unknown processor"}, ${cpus().length} cores`);
  const forked = benchScenario("heavy-forked.json");
  benchEquilibrium(forked);
  benchCars(shippedFiles().map(benchScenario));
  console.log("\nThe rigid linkage");
  for (const l of benchLinkage()) report(l.name, `${(l.positionsPerSecond / 1e6).toFixed(2)} million/s`, "at least 1 million/s");
  benchAnswer(forked);
  console.log("\nThe speed map");
  for (const r of benchMap(forked)) report(r.name, `${r.value.toPrecision(3)} ${r.unit}`, r.ratio === null ? "" : `ratio ${r.ratio.toPrecision(3)}`);
  benchMotion(forked);
  await benchPage();
  return 0;
}
