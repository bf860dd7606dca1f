import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { ALLOWED_FOLDERS, boundaryBreaks, CORE_FOLDERS, importsOf, MAX_LINES, sourceFiles } from "./support/imports.ts";

const root = new URL("..", import.meta.url).pathname.replace(/\/$/, "");

const breaksOf = (path: string, text: string): string[] => boundaryBreaks([{ path, text }]);

describe("the borders between folders", () => {
  it("hold in all of src", () => {
    const files = sourceFiles(root);
    expect(files.map((f) => f.path)).toContain("src/core/design/types.ts");
    expect(boundaryBreaks(files)).toEqual([]);
  });

  it("stand in DEVELOPERS.md as they are", () => {
    const arrows = readFileSync(`${root}/DEVELOPERS.md`, "utf8").match(/^- `\w+` -> .*$/gm);
    const rules = [ALLOWED_FOLDERS, CORE_FOLDERS].flatMap(Object.entries<string[]>);
    expect(arrows).toEqual(rules.map(([folder, into]) => `- \`${folder}\` -> ${into.join(", ") || "nothing"}`));
  });
});

describe("the checker of the borders", () => {
  it("finds every form of import", () => {
    const text = `import { a } from "./a.ts";
import type { B } from './b.ts';
import "./c.css";
export { d } from "./d.ts";
const e = await import("./e.ts");
import {
  f,
} from "./f.ts";
const w = new Worker(new URL("./g.ts", import.meta.url));
// import { h } from "./h.ts";
/* import { i } from "./i.ts"; */`;
    expect(importsOf(text).sort()).toEqual(["./a.ts", "./b.ts", "./c.css", "./d.ts", "./e.ts", "./f.ts", "./g.ts"]);
  });

  it.each([
    ["src/core/a.ts", 'import { z } from "zod";', "src/core/a.ts imports the package zod"],
    ["src/core/a.ts", 'import type { Graphics } from "pixi.js";', "src/core/a.ts imports the package pixi.js"],
    ["src/core/a.ts", 'import { readFileSync } from "node:fs";', "src/core/a.ts imports the package node:fs"],
    ["src/core/arm/a.ts", 'import { draw } from "../../draw/stage.ts";', "src/core/arm/a.ts imports src/draw/stage.ts"],
    ["src/core/equilibrium/a.ts", 'import { b } from "../limits/b.ts";', "src/core/equilibrium/a.ts imports src/core/limits/b.ts"],
    ["src/core/limits/a.ts", 'import { analyze } from "../analyze.ts";', "src/core/limits/a.ts imports src/core/analyze.ts"],
    ["src/core/a.ts", 'import { b } from "./studies/b.ts";', "src/core/a.ts imports src/core/studies/b.ts"],
    ["src/core/a.ts", 'import s from "../../scenarios/x.json";', "src/core/a.ts imports scenarios/x.json"],
    ["src/core/a.ts", "export const a = document.title;", "src/core/a.ts uses document, which only a page has"],
    ["src/core/a.ts", "export const a = Math.random();", "src/core/a.ts uses Math.random"],
    ["src/view/a.ts", 'import { z } from "zod";', "src/view/a.ts imports the package zod"],
    ["src/view/a.ts", 'import { parse } from "../scenario/parse.ts";', "src/view/a.ts imports src/scenario/parse.ts"],
    ["src/scenario/a.ts", 'import { view } from "../view/scene.ts";', "src/scenario/a.ts imports src/view/scene.ts"],
    ["src/ui/a.ts", 'import { World } from "planck-js";', "src/ui/a.ts imports the package planck-js"],
    ["src/app/a.ts", 'import { Application } from "pixi.js";', "src/app/a.ts imports the package pixi.js"],
    ["src/draw/a.ts", 'import GUI from "lil-gui";', "src/draw/a.ts imports the package lil-gui"],
    ["src/draw/a.ts", 'import "../../node_modules/lil-gui/dist/lil-gui.css";', "src/draw/a.ts imports the package ../../node_modules/lil-gui/dist/lil-gui.css"],
    ["src/cli/a.ts", 'import { panel } from "../ui/panel.ts";', "src/cli/a.ts imports src/ui/panel.ts"],
    ["src/cli/a.ts", 'import { help } from "../../tests/support/x.ts";', "src/cli/a.ts imports tests/support/x.ts"],
    ["src/cli/run.mjs", 'await import("pixi.js")', "src/cli/run.mjs imports the package pixi.js"],
    ["src/report/a.ts", 'import { parse } from "../scenario/parse.ts";', "src/report/a.ts imports src/scenario/parse.ts"],
    ["src/report/a.ts", 'import { api } from "../worker/api.ts";', "src/report/a.ts imports src/worker/api.ts"],
    ["src/report/a.ts", "export const a = document.body;", "src/report/a.ts uses document, which only a page has"],
    ["src/pages/arm/a.ts", 'import { b } from "../map/b.ts";', "src/pages/arm/a.ts imports another page, src/pages/map/b.ts"],
    ["src/pages/arm/picture/a.ts", "export const a = document.body;", "src/pages/arm/picture/a.ts uses document, which only a page has"],
    ["src/pages/arm/state/a.ts", 'import { h } from "../../../ui/dom.ts";', "src/pages/arm/state/a.ts imports src/ui/dom.ts"],
    ["src/pages/arm/picture/a.ts", 'import { p } from "../panels/p.ts";', "src/pages/arm/picture/a.ts imports src/pages/arm/panels/p.ts"],
    ["src/state/a.ts", 'import { s } from "../pages/arm/state/slice.ts";', "src/state/a.ts imports src/pages/arm/state/slice.ts"],
    ["src/misc/a.ts", "export const a = 1;", "src/misc/a.ts is in a folder without rules"],
    ["src/core/long.ts", "\n".repeat(MAX_LINES + 1), `src/core/long.ts has ${MAX_LINES + 1} lines, more than ${MAX_LINES}`],
  ])("refuses in %s: %s", (path, text, message) => {
    expect(breaksOf(path, text)).toEqual([message]);
  });

  it.each([
    ["src/core/a.ts", 'import { b } from "./b.ts";\n/** a document, not window */\nexport const a = "navigator";'],
    ["src/scenario/a.ts", 'import { z } from "zod";\nimport type { Scenario } from "../core/design/types.ts";'],
    ["src/draw/a.ts", 'import "pixi.js/unsafe-eval";\nimport { scene } from "../view/scene.ts";'],
    ["src/pages/axle/panels/a.ts", 'import "../../../../node_modules/lil-gui/dist/lil-gui.css";\nexport const a = document.body;'],
    ["src/pages/arm/picture/a.ts", 'import { b } from "../state/b.ts";\nimport { c } from "../../../view/c.ts";'],
    ["src/app/a.ts", 'import demo from "../../scenarios/heavy-forked.json";'],
    ["src/report/a.ts", 'import { scene } from "../view/scene.ts";\nimport type { Scenario } from "../core/design/types.ts";'],
    ["src/core/long.ts", "\n".repeat(MAX_LINES)],
  ])("accepts in %s: %s", (path, text) => {
    expect(breaksOf(path, text)).toEqual([]);
  });
});
