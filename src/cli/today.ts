/** The day that it is here, as 2026-11-26. */
export function today(): string {
  const now = new Date();
  const two = (v: number): string => String(v).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
