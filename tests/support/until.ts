import { vi } from "vitest";

/** Waits until something has come; no slow machine's clock fails a test, only what never comes. */
export const until = (done: () => boolean): Promise<unknown> => vi.waitUntil(done, { timeout: 120_000, interval: 10 });
