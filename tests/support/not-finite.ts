/** Paths of all numbers inside a value that are not finite; typed arrays count as arrays. */
export function notFinite(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path} = ${value}`];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([k, v]) => notFinite(v, path === "" ? k : `${path}.${k}`));
}
