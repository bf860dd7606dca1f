import { readdirSync, readFileSync } from "node:fs";
import { posix, relative, sep } from "node:path";

/** A source file by its path from the root of the project, with forward slashes. */
export interface SourceFile {
  path: string;
  text: string;
}

/** Folders of src that a folder may import from, besides itself. */
export const ALLOWED_FOLDERS: Record<string, string[]> = {
  core: [],
  scenario: ["core"],
  view: ["core"],
  report: ["core", "view"],
  state: ["core", "scenario", "view"],
  draw: ["core", "view", "state"],
  input: ["core", "view", "state"],
  motion: ["core"],
  worker: ["core", "scenario", "view", "state", "motion", "report"],
  ui: ["core", "scenario", "view", "state", "input"],
  pages: ["core", "scenario", "view", "state", "draw", "input", "motion", "worker", "ui", "report"],
  app: ["core", "scenario", "view", "state", "draw", "input", "worker", "ui", "pages"],
  cli: ["core", "scenario", "motion", "view", "worker", "report"],
};

/** Packages (by first part of their name) that a folder may import. */
const ALLOWED_PACKAGES: Record<string, string[]> = {
  core: ["gl-matrix"],
  scenario: ["zod"],
  // the faces that saved pictures and reports carry
  view: ["gl-matrix", "d3-scale", "d3-shape", "d3-contour", "d3-dsv", "@fontsource/arimo", "@fontsource/roboto-condensed"],
  report: [],
  state: [],
  draw: ["pixi.js", "gl-matrix"],
  input: ["gl-matrix"],
  motion: ["planck-js"],
  worker: ["comlink"],
  ui: ["d3-scale", "d3-shape", "d3-contour"],
  pages: ["lil-gui", "d3-scale", "d3-shape", "d3-contour"],
  app: [],
  // vite only for the runner that bundles the program
  cli: ["node", "vite"],
};

/** Folders of src/core that one of them may import from, besides itself and the files that stand beside them (`core`: those files themselves). */
export const CORE_FOLDERS: Record<string, string[]> = {
  numerics: [],
  design: [],
  linkage: ["design", "numerics"],
  trace: ["numerics"],
  arm: ["design", "numerics"],
  equilibrium: ["design", "numerics", "linkage", "arm"],
  budget: ["design", "numerics", "linkage", "equilibrium"],
  limits: ["design", "linkage", "arm", "equilibrium", "drive"],
  drive: ["design", "arm"],
  bench: ["design", "numerics", "linkage", "arm", "equilibrium", "limits", "drive"],
  core: ["design", "arm", "equilibrium", "budget", "limits"],
  studies: ["design", "numerics", "linkage", "arm", "equilibrium", "budget", "limits", "drive"],
  doubt: ["design", "numerics", "arm", "equilibrium", "limits", "studies", "bench"],
  runs: ["design", "numerics", "arm", "equilibrium", "limits", "studies", "doubt"],
};

/** Folders of the core that ask for whole answers. */
const OF_ANSWERS = ["studies", "doubt", "runs"];

/** Which folder of the core a file is in; null: outside of the core. */
function coreFolder(path: string): string | null {
  const [src, core, folder, file] = path.split("/");
  return src === "src" && core === "core" ? (file === undefined ? "core" : folder!) : null;
}

/** Names that exist only in a page; the other folders run in Node as well. */
const PAGE_NAMES = /\b(?:document|window|localStorage|navigator|HTMLElement|HTMLCanvasElement|requestAnimationFrame)\b/;
const WITHOUT_PAGE = ["core", "scenario", "view", "report", "motion", "state", "cli"];
/** What a page's picture, and its slice of the state with its edits, may use: they run in Node as well. */
const PURE_ROOMS = ["picture", "state"];
const PURE_FOLDERS = ["core", "scenario", "view", "state", "motion"];
/** The core gives the same answer every time: no clock, no chance of its own. */
const AMBIENT = /\b(?:Math\.random|Date\.now|new Date|performance\.now|console)\b/;
export const MAX_LINES = 400;

/** Specifiers of all imports and re-exports, static and dynamic, types included. */
export function importsOf(text: string): string[] {
  const code = withoutComments(text);
  const found = [...code.matchAll(/\b(?:from|import)\s*\(?\s*["']([^"'\n]+)["']/g)].map((m) => m[1]!);
  return [...found, ...[...code.matchAll(/new URL\(\s*["'](\.[^"'\n]+)["']\s*,\s*import\.meta\.url/g)].map((m) => m[1]!)];
}

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/(^|[^:"'`])\/\/.*$/gm, "$1");
}

function withoutStrings(text: string): string {
  return withoutComments(text).replace(/"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`/g, '""');
}

function packageOf(specifier: string): string {
  if (specifier.startsWith("node:")) return "node";
  const parts = specifier.split("/");
  return specifier.startsWith("@") ? parts.slice(0, 2).join("/") : parts[0]!;
}

/** Every break of the rules about folders, packages, page names and length, as sentences. */
export function boundaryBreaks(files: readonly SourceFile[]): string[] {
  const breaks: string[] = [];
  for (const { path, text } of files) {
    const folder = path.split("/")[1]!;
    const lines = text.split("\n").length - 1;
    if (lines > MAX_LINES) breaks.push(`${path} has ${lines} lines, more than ${MAX_LINES}`);
    const folders = ALLOWED_FOLDERS[folder];
    const packages = ALLOWED_PACKAGES[folder];
    if (!folders || !packages) {
      breaks.push(`${path} is in a folder without rules`);
      continue;
    }
    const pure = folder === "pages" && PURE_ROOMS.includes(path.split("/")[3]!);
    for (const specifier of importsOf(text)) {
      if (!specifier.startsWith(".")) {
        if (!packages.includes(packageOf(specifier))) breaks.push(`${path} imports the package ${specifier}`);
        continue;
      }
      const target = posix.normalize(posix.join(posix.dirname(path), specifier));
      if (target.startsWith("scenarios/") && folder !== "core") continue;
      if (target.startsWith("node_modules/")) {
        if (!packages.includes(packageOf(target.slice("node_modules/".length)))) breaks.push(`${path} imports the package ${specifier}`);
        continue;
      }
      const to = target.startsWith("src/") ? target.split("/")[1]! : "";
      const [from, into] = [coreFolder(path), coreFolder(target)];
      if (from !== null && into !== null && from !== into && into !== "core" && !CORE_FOLDERS[from]?.includes(into)) breaks.push(`${path} imports ${target}`);
      if (from !== null && !OF_ANSWERS.includes(from) && target === "src/core/analyze.ts") breaks.push(`${path} imports ${target}`);
      if (to !== folder && !(pure ? PURE_FOLDERS : folders).includes(to)) breaks.push(`${path} imports ${target}`);
      if (folder === "pages" && to === "pages") {
        const [, , page, room] = target.split("/");
        if (page !== path.split("/")[2]) breaks.push(`${path} imports another page, ${target}`);
        else if (pure && !PURE_ROOMS.includes(room!)) breaks.push(`${path} imports ${target}`);
      }
    }
    const code = withoutStrings(text);
    if (WITHOUT_PAGE.includes(folder) || pure) {
      const name = PAGE_NAMES.exec(code);
      if (name) breaks.push(`${path} uses ${name[0]}, which only a page has`);
    }
    if (folder === "core") {
      const name = AMBIENT.exec(code);
      if (name) breaks.push(`${path} uses ${name[0]}`);
    }
  }
  return breaks;
}

/** All code of src: TypeScript and the runner. */
export function sourceFiles(root: string): SourceFile[] {
  return readdirSync(`${root}/src`, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile() && /\.(?:ts|mts|mjs)$/.test(e.name))
    .map((e) => `${e.parentPath}/${e.name}`)
    .map((full) => ({ path: relative(root, full).split(sep).join("/"), text: readFileSync(full, "utf8") }))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
}
