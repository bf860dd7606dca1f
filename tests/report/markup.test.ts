import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { at, el, esc, say, table } from "../../src/report/markup.ts";
import { measureText } from "../../src/report/measure.ts";
import { PAPER_TONES, toneOf } from "../../src/report/tones.ts";
import { TONES } from "../../src/view/tones.ts";
import { markupFaults, textOf } from "../support/markup.ts";

describe("markup", () => {
  it("lets no text become markup", () => {
    const bad = `<script>alert("1" & '2')</script>`;
    expect(esc(bad)).toBe("&lt;script&gt;alert(&quot;1&quot; &amp; &#39;2&#39;)&lt;/script&gt;");
    const made = say("p", { title: bad }, bad);
    expect(markupFaults(made)).toEqual([]);
    expect(textOf(made).trim()).toBe(bad);
  });

  it("leaves attributes out that are null, and keeps nought", () => {
    expect(el("path", { d: "M0 0", fill: null, opacity: 0, class: undefined })).toBe('<path d="M0 0" opacity="0"></path>');
  });

  it("makes a table whose rows have a head each and numbers stand to the right", () => {
    const t = table({ caption: "c", head: ["a", "b"], rows: [["x", "1"]], words: [0] });
    expect(t).toContain('<tr><th scope="row">x</th><td class="n">1</td></tr>');
    expect(markupFaults(t)).toEqual([]);
  });

  it("rounds coordinates to a tenth", () => {
    expect([at(1), at(1.04), at(-0.25), at(12.96)]).toEqual(["1", "1", "-0.3", "13"]);
  });
});

describe("the checker of markup", () => {
  it.each([
    ["<p><b>x</p></b>", "</p> closes <b>"],
    ["<p>", "left open: p"],
    ['<path d="MNaN 0"></path>', 'no number in <path d="MNaN 0">'],
    ["<p>1 < 2</p>", "a bracket stands outside of all elements"],
  ])("finds the fault of %s", (text, fault) => {
    expect(markupFaults(text)).toContain(fault);
  });
});

describe("colours on paper", () => {
  it("are the light ones of the page", () => {
    const css = readFileSync(new URL("../../src/ui/css/tokens.css", import.meta.url), "utf8");
    const light = css.slice(0, css.indexOf("@media"));
    for (const tone of TONES) expect([tone, toneOf(tone)]).toEqual([tone, new RegExp(`--${tone}: (#[0-9a-f]{6});`).exec(light)?.[1]]);
    expect(Object.keys(PAPER_TONES)).toHaveLength(TONES.length);
  });

  it("are never made up", () => {
    expect(() => toneOf("pink")).toThrow("no tone named pink");
  });
});

describe("widths of text without a page", () => {
  it("grow with size and weight, and add up letter by letter", () => {
    expect(measureText("ab", 20, false)).toBeCloseTo(2 * measureText("ab", 10, false), 9);
    expect(measureText("ab", 10, true)).toBeGreaterThan(measureText("ab", 10, false));
    expect(measureText("abc", 10, false)).toBeCloseTo(measureText("a", 10, false) + measureText("bc", 10, false), 9);
    expect(measureText("iii", 10, false)).toBeLessThan(measureText("mmm", 10, false));
  });
});
