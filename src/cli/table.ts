/** Numbers and aligned columns for a terminal. Plain ASCII signs, so that the text can be searched and pasted. */

/** Words of the page with its fine spaces and minus as a terminal has them. */
export const plainSigns = (text: string): string => text.replaceAll("\u2009", " ").replaceAll("\u2212", "-");

/** Fixed decimals; what rounds to zero has no sign, what is not finite is told in words. */
export function num(value: number, digits: number): string {
  if (!Number.isFinite(value)) return value > 0 ? "endless" : "-endless";
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** The same with a plus sign before what is above zero. */
export function signed(value: number, digits: number): string {
  const text = num(value, digits);
  return Number(text) > 0 ? `+${text}` : text;
}

/** About three figures that matter: 0.0123, 1.23, 12.3, 1230. */
export function figures(value: number): string {
  const size = Math.abs(value);
  if (!Number.isFinite(value) || size === 0) return num(value, 0);
  const digits = Math.max(0, Math.min(6, 2 - Math.floor(Math.log10(size))));
  return num(value, digits);
}

/** The first `leftColumns` columns to the left, the others to the right, two spaces between; a row with one cell is a heading across. */
export function table(head: readonly string[], rows: readonly (readonly string[])[], leftColumns = 1): string {
  const width: number[] = [];
  const full = rows.filter((r) => r.length > 1);
  for (const row of [head, ...full])
    row.forEach((cell, i) => {
      width[i] = Math.max(width[i] ?? 0, letters(cell));
    });
  const line = (row: readonly string[]): string =>
    row
      .map((cell, i) => {
        const gap = " ".repeat(Math.max(0, (width[i] ?? 0) - letters(cell)));
        return i < leftColumns ? cell + gap : gap + cell;
      })
      .join("  ")
      .trimEnd();
  const rule = "-".repeat(width.reduce((sum, w) => sum + w + 2, -2));
  return [line(head), rule, ...rows.map((r) => (r.length > 1 ? line(r) : r[0]!))].join("\n");
}

const letters = (text: string): number => [...text].length;

/** A title with its block, and an empty line after it. */
export const block = (title: string, body: string): string => `${title.toUpperCase()}\n${body}\n`;
