import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { Instrumenter } from "@stryker-mutator/instrumenter";
import { build, type Plugin, parseAst } from "vite";

/** A mistake that is planted: its number is its place in the list. */
export interface Mutant {
  file: string;
  line: number;
  column: number;
  kind: string;
  /** what stands there instead */
  replacement: string;
  /** not judged: of a kind that is not in the code, or not in the sample */
  leftOut: boolean;
}

/** Words for the reader are not judged. */
const LEFT_OUT = ["StringLiteral"];

const silent = () => {};
const logger = {
  isTraceEnabled: () => false,
  isDebugEnabled: () => false,
  isInfoEnabled: () => false,
  isWarnEnabled: () => false,
  isErrorEnabled: () => false,
  isFatalEnabled: () => false,
  trace: silent,
  debug: silent,
  info: silent,
  warn: silent,
  error: silent,
  fatal: silent,
};

/** Stryker's calls in our own, cheaper words: a mark and a decrement where it notes coverage, a comparison of numbers where it asks. */
function cheaper(text: string): string {
  const marks = (ids: string): string => ids.replace(/"(\d+)"/g, "$$seen[$1] = 1");
  return text
    .replace(/stryCov_9fa48\((["\d, ]+)\)/g, (_, ids: string) => `(${marks(ids)}, --$mutants.left < 0 && $mutants.over())`)
    .replace(/stryMutAct_9fa48\("(\d+)"\)/g, "($mutants.on === $1)");
}

/** A test file as the body of a function, to be run anew for every mistake. */
function asFunction(code: string): string {
  const imports = parseAst(code).body.filter((n) => n.type === "ImportDeclaration");
  const at = imports.at(-1)?.end ?? 0;
  return `${code.slice(0, at)}\nexport default function () {${code.slice(at)}\n}`;
}

/**
 * Bundles the tests with every mistake of the sources planted behind a switch.
 * @param sources paths from the root, files to plant mistakes in
 * @param tests paths from the root
 * @param out folder for `worker.mjs`
 */
export async function bundleMutants(root: string, sources: readonly string[], tests: readonly string[], out: string): Promise<Mutant[]> {
  const files = sources.map((name) => ({ name, mutate: true, content: readFileSync(join(root, name), "utf8") }));
  const made = await new Instrumenter(logger).instrument(files, { plugins: null, ignorers: [], excludedMutations: LEFT_OUT });
  const planted = new Map(made.files.map((f) => [join(root, f.name), cheaper(f.content)]));
  const here = join(root, "tests/mutants");
  const isTest = new Set(tests.map((t) => join(root, t)));
  const before: Plugin = {
    name: "plant",
    enforce: "pre",
    resolveId: (id) => (id === "vitest" ? join(here, "collector.ts") : id === "virtual:tests" ? "\0tests" : null),
    load: (id) => {
      if (id !== "\0tests") return planted.get(id) ?? null;
      const list = tests.map((t, i) => `import t${i} from ${JSON.stringify(join(root, t))};`);
      return `${list.join("\n")}\nexport const files = [${tests.map((t, i) => `{ name: ${JSON.stringify(t)}, run: t${i} }`).join(", ")}];`;
    },
    transform: (code, id) => {
      if (!id.startsWith(root) || id.startsWith(here) || id.includes("node_modules")) return null;
      const text = code.replaceAll("import.meta.url", JSON.stringify(pathToFileURL(id).href)).replaceAll("new WeakMap", "new $Forgetful");
      return `import { Forgetful as $Forgetful, mutants as $mutants, seen as $seen } from ${JSON.stringify(join(here, "switch.ts"))};\n${text}`;
    },
  };
  const after: Plugin = { name: "as-function", enforce: "post", transform: (code, id) => (isTest.has(id) ? asFunction(code) : null) };
  await build({
    root,
    configFile: false,
    publicDir: false,
    logLevel: "error",
    plugins: [before, after],
    ssr: { external: ["@vitest/expect", "chai", "fast-check", "ml-matrix"] },
    build: {
      ssr: join(here, "worker.ts"),
      outDir: out,
      emptyOutDir: false,
      minify: false,
      target: "node20",
      rolldownOptions: { output: { entryFileNames: "worker.mjs", codeSplitting: false } },
    },
  });
  return made.mutants.map((m) => ({
    file: m.fileName,
    line: m.location.start.line + 1,
    column: m.location.start.column + 1,
    kind: m.mutatorName,
    replacement: m.replacement,
    leftOut: m.status === "Ignored",
  }));
}
