import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { expect, it } from "vitest";

const SRC = join(import.meta.dirname, "../../src");
const sheets = readdirSync(SRC, { recursive: true, encoding: "utf8" })
  .filter((f) => f.endsWith(".css"))
  .map((f) => ({ name: basename(f), text: readFileSync(join(SRC, f), "utf8") }));

/** What a rule of the tokens sets. */
function declarations(selector: string): Record<string, string> {
  const text = sheets.find((s) => s.name === "tokens.css")?.text ?? "";
  const start = text.indexOf(`${selector} {`);
  if (start < 0) throw new Error(`no rule ${selector}`);
  const body = text.slice(text.indexOf("{", start) + 1, text.indexOf("}", start)).replace(/\/\*.*?\*\//g, "");
  return Object.fromEntries(
    body
      .split(";")
      .map((d) => d.split(":").map((x) => x.trim()))
      .filter(([name]) => name)
      .map(([name, value]) => [name, value ?? ""]),
  );
}

it("only the tokens know of themes", () => {
  expect(sheets.filter((s) => /prefers-color-scheme|data-theme/.test(s.text)).map((s) => s.name)).toEqual(["tokens.css"]);
});

it("dark sets a colour for each colour of light, nothing else, and the same whether the system or the reader asks for it", () => {
  const light = declarations(":root");
  const dark = declarations(':root[data-theme="dark"]');
  expect(declarations(':root:not([data-theme="light"])')).toEqual(dark);
  const isColour = ([name, value]: [string, string]): boolean =>
    name === "color-scheme" ? value === "dark" : /^--/.test(name) && /^#[0-9a-f]{6}$/.test(value);
  expect(Object.entries(dark).filter((d) => !isColour(d))).toEqual([]);
  expect(Object.keys(light).filter((name) => light[name]?.startsWith("#") && !(name in dark))).toEqual([]);
});
