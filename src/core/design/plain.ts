/** A plain object: keys and values, as files and documents hold them. */
export type Plain = Record<string, unknown>;

/** Whether a value is a plain object, and no list. */
export const isPlain = (v: unknown): v is Plain => typeof v === "object" && v !== null && !Array.isArray(v);
