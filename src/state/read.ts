/** Plain values of unknown origin, read field by field: what does not fit stands at its default. */
export type Fields = Readonly<Record<string, unknown>>;

export const fieldsOf = (raw: unknown): Fields => (typeof raw === "object" && raw !== null && !Array.isArray(raw) ? (raw as Fields) : {});

export const flagOr = <T>(raw: unknown, fallback: T): boolean | T => (typeof raw === "boolean" ? raw : fallback);

/** A number within bounds, or the default. */
export const numberOr = <T>(raw: unknown, fallback: T, least = Number.NEGATIVE_INFINITY, most = Number.POSITIVE_INFINITY): number | T =>
  typeof raw === "number" && Number.isFinite(raw) && raw >= least && raw <= most ? raw : fallback;

/** One of a list, or the default. */
export const oneOf = <T, F>(raw: unknown, allowed: readonly T[], fallback: F): T | F => (allowed.includes(raw as T) ? (raw as T) : fallback);

/** longest key or name that a view keeps, letters */
const WORD_MOST = 80;
export const wordOr = <T>(raw: unknown, fallback: T): string | T => (typeof raw === "string" && raw.length <= WORD_MOST ? raw : fallback);
