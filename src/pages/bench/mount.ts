import type { MountPage } from "../../ui/page.ts";
import { type BenchPage, createBenchPage } from "./bench-page.ts";

let page: BenchPage | null = null;

/** What was measured on the bench and driven on the track. Made once, shown as often as wanted. */
export const mountBench: MountPage = (region, store, help) => {
  page ??= createBenchPage(store, help);
  page.show(region);
  return page;
};
