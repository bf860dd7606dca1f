/** Elements that have no end in HTML. */
const VOID = new Set(["meta", "link", "br", "hr", "img", "input"]);

/** What is wrong with the nesting or the attributes of some markup, as sentences; text between is not looked at. */
export function markupFaults(text: string): string[] {
  const faults: string[] = [];
  const open: string[] = [];
  const code = text.replace(/<!doctype[^>]*>/i, "").replace(/<style>[\s\S]*?<\/style>/g, "");
  for (const [tag, slash, name, attrs] of code.matchAll(/<(\/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z:-]+(?:="[^"<]*")?)*)\s*\/?>/g)) {
    if (slash) {
      const last = open.pop();
      if (last !== name) faults.push(`</${name}> closes <${last}>`);
    } else if (!VOID.has(name!)) open.push(name!);
    if (/NaN|undefined|Infinity/.test(attrs!)) faults.push(`no number in ${tag}`);
  }
  if (open.length > 0) faults.push(`left open: ${open.join(", ")}`);
  const bare = code.replace(/<\/?[a-zA-Z][a-zA-Z0-9]*(?:\s+[a-zA-Z:-]+(?:="[^"<]*")?)*\s*\/?>/g, "");
  if (/[<>]/.test(bare)) faults.push("a bracket stands outside of all elements");
  return faults;
}

/** Text of some markup without its elements, entities resolved. */
export const textOf = (markup: string): string =>
  markup
    .replace(/<[^>]*>/g, " ")
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, "&")
    .replace(/\s+/g, " ");
