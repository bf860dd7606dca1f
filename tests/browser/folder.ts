import { existsSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join, normalize } from "node:path";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
  ".woff": "font/woff",
  ".webmanifest": "application/manifest+json",
  ".txt": "text/plain; charset=utf-8",
};

/** Serves a folder's files as they lie there, not packed: over a wire of no length that costs time and saves none. */
export async function serveFolder(dist: string): Promise<{ url: string; close(): Promise<void> }> {
  const server = createServer((asked, answer) => {
    const path = new URL(asked.url ?? "/", "http://here").pathname;
    const file = join(dist, normalize(path === "/" ? "/index.html" : path));
    if (!existsSync(file)) {
      answer.writeHead(404).end();
      return;
    }
    answer.writeHead(200, { "Content-Type": TYPES[extname(file)] ?? "application/octet-stream", "Cache-Control": "no-cache" }).end(readFileSync(file));
  });
  await new Promise<void>((on) => server.listen(0, "127.0.0.1", on));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    close() {
      server.closeAllConnections();
      return new Promise((on) => server.close(() => on()));
    },
  };
}
