import { benchPage } from "./page.ts";

/** The page's part of the bench alone: `node src/cli/run.mjs tests/bench/page-main.ts`. */
export async function main(): Promise<number> {
  await benchPage();
  return 0;
}
