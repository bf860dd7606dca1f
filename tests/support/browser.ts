import { accessSync, chmodSync, constants, existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { homedir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { brotliDecompressSync } from "node:zlib";
import { type Browser, chromium } from "playwright-core";

/** A browser that may be started: where it came from, its executable, and what its environment needs besides ours. */
export interface FoundBrowser {
  kind: "env" | "installed" | "npm";
  path: string;
  env: Record<string, string>;
}

const isExe = (p: string): boolean => {
  try {
    accessSync(p, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

/** Places where Chrome, Chromium or Edge usually lie; snaps are left out, they cannot be driven from here. */
function installedPaths(): string[] {
  if (process.platform === "darwin") {
    const apps = ["Google Chrome", "Chromium", "Microsoft Edge", "Google Chrome Canary"];
    return ["/Applications", join(homedir(), "Applications")].flatMap((d) => apps.map((a) => join(d, `${a}.app/Contents/MacOS/${a}`)));
  }
  if (process.platform === "win32") {
    const roots = [process.env.ProgramFiles, process.env["ProgramFiles(x86)"], process.env.LocalAppData].filter((r): r is string => !!r);
    return ["Google\\Chrome\\Application\\chrome.exe", "Chromium\\Application\\chrome.exe", "Microsoft\\Edge\\Application\\msedge.exe"].flatMap((t) =>
      roots.map((r) => join(r, t)),
    );
  }
  const names = ["google-chrome-stable", "google-chrome", "chromium", "chromium-browser", "microsoft-edge-stable", "microsoft-edge"];
  const dirs = (process.env.PATH ?? "").split(delimiter).filter((d) => d && !d.includes("/snap/"));
  return names.flatMap((n) => dirs.map((d) => join(d, n)));
}

/** Unpacks files, folders and links of a plain tar. */
function untar(buf: Buffer, dir: string): void {
  for (let at = 0; at + 512 <= buf.length; ) {
    const str = (o: number, n: number): string => {
      const s = buf.toString("utf8", at + o, at + o + n);
      const z = s.indexOf("\0");
      return z < 0 ? s : s.slice(0, z);
    };
    const name = str(0, 100);
    if (!name) break;
    const size = Number.parseInt(str(124, 12).trim() || "0", 8);
    const mode = Number.parseInt(str(100, 8).trim() || "644", 8);
    const type = str(156, 1);
    const target = join(dir, name);
    if (type === "5") mkdirSync(target, { recursive: true });
    else if (type === "0" || type === "") {
      mkdirSync(dirname(target), { recursive: true });
      writeFileSync(target, buf.subarray(at + 512, at + 512 + size), { mode });
    } else if (type === "2") {
      mkdirSync(dirname(target), { recursive: true });
      symlinkSync(str(157, 100), target);
    }
    at += 512 + Math.ceil(size / 512) * 512;
  }
}

/**
 * The headless shell that comes with the npm packages (Linux x64 only), with the libraries and fonts it needs,
 * unpacked once into node_modules/.cache; several processes may do so at the same time.
 */
function npmBrowser(): FoundBrowser | undefined {
  if (process.platform !== "linux" || process.arch !== "x64") return undefined;
  let bin: string;
  let version: string;
  try {
    const entry = createRequire(import.meta.url).resolve("@sparticuz/chromium");
    const root = entry.slice(0, entry.lastIndexOf("chromium/build") + "chromium".length);
    bin = join(root, "bin");
    version = (JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { version: string }).version;
  } catch {
    return undefined;
  }
  const cache = join(dirname(dirname(dirname(bin))), ".cache");
  const home = join(cache, `chromium-${version}`);
  if (!existsSync(home)) {
    mkdirSync(cache, { recursive: true });
    const tmp = mkdtempSync(join(cache, "unpack-"));
    const read = (n: string): Buffer => brotliDecompressSync(readFileSync(join(bin, n)));
    writeFileSync(join(tmp, "chromium"), read("chromium.br"));
    chmodSync(join(tmp, "chromium"), 0o755);
    untar(read("swiftshader.tar.br"), tmp); // libGLESv2 etc. must lie beside the executable
    untar(read("al2023.tar.br"), tmp); // lib/: nss, nspr, expat
    untar(read("fonts.tar.br"), tmp);
    writeFileSync(
      join(tmp, "fonts.conf"),
      `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>${join(home, "fonts")}</dir><dir>/usr/share/fonts</dir><cachedir>${join(home, "fc-cache")}</cachedir></fontconfig>\n`,
    );
    try {
      renameSync(tmp, home);
    } catch (e) {
      rmSync(tmp, { recursive: true, force: true });
      if (!existsSync(home)) throw e;
    }
  }
  const ld = [join(home, "lib"), process.env.LD_LIBRARY_PATH].filter(Boolean).join(":");
  return {
    kind: "npm",
    path: join(home, "chromium"),
    // an empty LC_ALL leaves this browser without words of its own: a page with <details> would crash
    env: { LANG: "en_US.UTF-8", LC_ALL: "en_US.UTF-8", LANGUAGE: "en_US", LD_LIBRARY_PATH: ld, FONTCONFIG_FILE: join(home, "fonts.conf") },
  };
}

/**
 * Browsers to try in turn: CHROME_PATH alone if set, else the light one from npm and an installed one, this first where a whole browser is asked
 * for; BROWSER_FROM=npm or installed forces one kind.
 */
function* candidates(whole: boolean, only = process.env.BROWSER_FROM): Generator<FoundBrowser> {
  const named = process.env.CHROME_PATH;
  if (named) {
    yield { kind: "env", path: named, env: {} };
    return;
  }
  for (const kind of whole ? (["installed", "npm"] as const) : (["npm", "installed"] as const)) {
    if (only && only !== kind) continue;
    const path = kind === "installed" ? installedPaths().find(isExe) : undefined;
    // unpacked only when reached
    const found = kind === "npm" ? npmBrowser() : path ? { kind, path, env: {} } : undefined;
    if (found) yield found;
  }
}

/** WebGL in software. */
const webglFlags = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"];
/** No WebGL at all: pictures are drawn on a plain canvas, fast and with steady pixels. */
const noWebglFlags = ["--disable-gpu", "--disable-3d-apis", "--disable-software-rasterizer"];

const quietFlags = [
  "--no-first-run",
  "--no-default-browser-check",
  "--disable-quic",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--disable-domain-reliability",
  "--no-pings",
  "--force-color-profile=srgb",
  // the browser's own bar is a page of its own in every window, which costs as much as ours; the others are those that playwright leaves out, which
  // this switch would bring back
  `--disable-features=${[
    "WebUIOmniboxPopup",
    "WebUIOmniboxAimPopup",
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "HttpsUpgrades",
    "OptimizationHints",
    "PaintHolding",
    "ThirdPartyStoragePartitioning",
    "Translate",
  ]}`,
];

/**
 * Starts the first browser that works: the light one, a shell without windows that takes half of the processor's time, or a `whole` one as people
 * have it, if there is one. Throws with all that was tried when none works.
 */
export async function launchBrowser(opts: { webgl?: boolean; whole?: boolean; args?: string[] } = {}): Promise<{ browser: Browser; found: FoundBrowser }> {
  const tried: string[] = [];
  for (const found of candidates(opts.whole === true)) {
    try {
      const browser = await chromium.launch({
        executablePath: found.path,
        headless: true,
        timeout: 60_000,
        env: { ...process.env, ...found.env } as Record<string, string>,
        args: [...quietFlags, ...(opts.webgl === false ? noWebglFlags : webglFlags), ...(opts.args ?? [])],
      }); // playwright adds --no-sandbox, --disable-dev-shm-usage itself
      return { browser, found };
    } catch (e) {
      tried.push(`${found.kind} ${found.path}: ${String(e).split("\n").slice(0, 3).join(" | ")}`);
    }
  }
  throw new Error(`No usable browser. Install Chrome or Chromium, or set CHROME_PATH.\n${tried.join("\n")}`);
}
