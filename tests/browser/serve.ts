import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "vite";
import type { TestProject } from "vitest/node";
import { serveFolder } from "./folder.ts";

declare module "vitest" {
  interface ProvidedContext {
    /** where the built page is served */
    siteUrl: string;
    /** the folder that it is served from */
    siteDist: string;
  }
}

/** Builds the page and serves it on a port of its own; the last thing is to clear up. */
export async function serveBuilt(): Promise<{ url: string; dist: string; close(): Promise<void> }> {
  const dist = mkdtempSync(join(tmpdir(), "wheelstay-site-"));
  await build({ logLevel: "error", build: { outDir: dist, emptyOutDir: true } });
  const server = await serveFolder(dist);
  return {
    url: server.url,
    dist,
    async close() {
      await server.close();
      rmSync(dist, { recursive: true, force: true });
    },
  };
}

/** The built page, once for all browser tests of a run. */
export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const { url, dist, close } = await serveBuilt();
  project.provide("siteDist", dist);
  project.provide("siteUrl", url);
  return close;
}
