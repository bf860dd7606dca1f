import { z } from "zod";

// Code made at run time would be refused by the page's content security policy.
z.config({ jitless: true });

/** A number within a range; both ends are allowed. */
export function num(min: number, max: number, unit: string, what: string): z.ZodNumber {
  return z
    .number()
    .min(min)
    .max(max)
    .meta({ description: describe(what, unit), unit, what });
}

/** A whole number within a range. */
export function whole(min: number, max: number, what: string): z.ZodInt {
  return z.int().min(min).max(max).meta({ description: what, unit: "", what });
}

/** A text field of at most so many characters. */
export function text(maxLength: number, what: string): z.ZodString {
  return z.string().max(maxLength).meta({ description: what });
}

/** A field that is true or false. */
export function flag(what: string): z.ZodBoolean {
  return z.boolean().meta({ description: what });
}

function describe(what: string, unit: string): string {
  return unit === "" ? what : `${what}, ${unit}`;
}

/** A description that is put on a schema built elsewhere. */
export function about<T extends z.ZodType>(schema: T, what: string): T {
  return schema.meta({ description: what });
}
