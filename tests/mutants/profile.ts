/** What a piece passed through in the first run: every mistake that lies there, how much of the code, how long in ms of CPU. */
export interface Piece {
  name: string;
  seen: Uint8Array;
  passes: number;
  ms: number;
}
export interface Profile {
  files: (Piece & { suites: (Piece & { tests: Piece[] })[] })[];
  /** what runs while files are loaded */
  loading: Uint8Array;
}

/** A test that passes where a mistake lies. */
export interface Asked {
  file: number;
  suite: number;
  test: number;
  /** with what must run before it */
  ms: number;
}

/** All tests to ask about a mistake. */
export function testsFor(p: Profile, id: number): Asked[] {
  const out: Asked[] = [];
  for (const [file, f] of p.files.entries())
    for (const [suite, s] of f.suites.entries())
      for (const [test, t] of s.tests.entries()) if (f.seen[id] || s.seen[id] || t.seen[id]) out.push({ file, suite, test, ms: f.ms + s.ms + t.ms });
  return out;
}
