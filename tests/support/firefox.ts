import { spawnSync } from "node:child_process";
import { accessSync, constants, readFileSync, realpathSync, statSync } from "node:fs";
import { homedir } from "node:os";
import { delimiter, join } from "node:path";
import { type Browser, firefox } from "playwright-core";

/** The oldest one that knows all that is asked of it: the long-term one of 2026. */
const OLDEST = 153;
/** programs are larger, start scripts smaller */
const SCRIPT_BYTES = 20_000;

/** Places where a Firefox usually lies; a snap cannot be driven from here, as it does not see our folders. */
function places(): string[] {
  if (process.env.FIREFOX_PATH) return [process.env.FIREFOX_PATH];
  if (process.platform === "darwin") return ["/Applications", join(homedir(), "Applications")].map((d) => join(d, "Firefox.app/Contents/MacOS/firefox"));
  const dirs = (process.env.PATH ?? "").split(delimiter).filter((d) => d);
  return ["firefox", "firefox-esr"].flatMap((n) => dirs.map((d) => join(d, n)));
}

function canDrive(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    const real = realpathSync(path);
    // a script in the place of a program may lead into a snap too
    return !/\bsnap\b/.test(real) && !(statSync(real).size < SCRIPT_BYTES && /\bsnap\b/.test(readFileSync(real, "utf8")));
  } catch {
    return false;
  }
}

/** A Firefox that can be driven, or why there is none. */
export function findFirefox(): { path: string } | { missing: string } {
  const older: string[] = [];
  for (const path of places().filter(canDrive)) {
    const told = spawnSync(path, ["--version"], { encoding: "utf8", timeout: 60_000 }).stdout ?? "";
    const version = /Firefox (\d+)/.exec(told)?.[1];
    if (Number(version) >= OLDEST) return { path };
    if (version) older.push(version);
  }
  return { missing: older.length > 0 ? `Firefox ${older[0]} is older than ${OLDEST}` : "no Firefox was found" };
}

/** Starts a stock Firefox through WebDriver BiDi; it needs no patched build. */
export function launchFirefox(path: string): Promise<Browser> {
  // what moves by itself is off, as in the other browsers' contexts
  return firefox.launch({ channel: "moz-firefox", executablePath: path, headless: true, timeout: 60_000, firefoxUserPrefs: { "ui.prefersReducedMotion": 1 } });
}
