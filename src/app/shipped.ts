import type { Scenario } from "../core/design/types.ts";
import { parseScenario } from "../scenario/parse.ts";

const files = import.meta.glob<unknown>(["../../scenarios/*.json", "!../../scenarios/*.schema.json"], { eager: true, import: "default" });

/** Invented cars that come with the page, by file name. */
export const SHIPPED: readonly { key: string; scenario: Scenario }[] = Object.entries(files).flatMap(([path, value]) => {
  const key = (path.split("/").at(-1) as string).replace(/\.json$/, "");
  const read = parseScenario(value, `${key}.json`);
  return read.ok ? [{ key, scenario: read.scenario }] : [];
});

export const shipped = (key: string): Scenario => {
  const found = SHIPPED.find((s) => s.key === key);
  if (!found) throw new Error(`no shipped car named ${key}`);
  return found.scenario;
};

export const FIRST_A = "heavy-forked";
export const FIRST_B = "heavy-straight-pinned";
export const FIRST_G = 0.8;
