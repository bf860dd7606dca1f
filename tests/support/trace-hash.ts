import type { Trace } from "../../src/motion/trace.ts";

/** FNV-1a over every number of the trace, as eight hex digits: equal traces, equal hashes. */
export function traceHash(trace: Trace): string {
  let h = 0x811c9dc5;
  const see = (a: Float64Array): void => {
    for (const b of new Uint8Array(a.buffer, a.byteOffset, a.byteLength)) h = Math.imul(h ^ b, 0x01000193);
  };
  see(trace.timeS);
  for (const c of trace.columns) see(c);
  for (const p of trace.poses) see(p.q);
  return (h >>> 0).toString(16).padStart(8, "0");
}
