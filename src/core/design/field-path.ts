/** Steps from the root of a scenario: keys, and indices of lists. */
export type Path = readonly (string | number)[];

/** `corner.wheel.radiusMm`, `loadCases[0].lateralG`, and the same with dots only. */
export function splitPath(path: string): (string | number)[] {
  return path
    .split(/[.[\]]+/)
    .filter((s) => s !== "")
    .map((s) => (/^\d+$/.test(s) ? Number(s) : s));
}

/** A path as it is written: `corner.arms[0].name`. */
export function joinPath(path: Path): string {
  return path.reduce<string>((out, step) => (typeof step === "number" ? `${out}[${step}]` : out === "" ? step : `${out}.${step}`), "");
}

/** What stands at a path in parsed JSON, or undefined. */
export function valueAt(root: unknown, path: Path): unknown {
  let v = root;
  for (const step of path) {
    if (typeof v !== "object" || v === null) return undefined;
    v = (v as Record<string | number, unknown>)[step];
  }
  return v;
}
