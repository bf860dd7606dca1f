/** What a bench test tells of a design. */

/** A row of the table against the fit; blank rows are null. */
export type BenchRow =
  | {
      ok: true;
      x: number;
      y: number;
      fitted: number;
      /** y less fitted */
      residual: number;
      /** the load went up or down to this row; null: neither can be told */
      way: "up" | "down" | null;
    }
  | { ok: false; reason: string }
  | { ok: null };

export interface BenchResult {
  /** field of the scenario that it goes to; null: told only */
  path: string | null;
  words: string;
  unit: string;
  value: number;
  /** one standard deviation */
  sd: number;
  /** the true value lies in it in 95 of 100 such tests; of parts that were broken: the next part's */
  range95: [number, number];
  /** what the design has now; null: none, or no number */
  was: number | null;
  /** correlation with the other values that this test gave, by their paths */
  together: Record<string, number>;
}

export interface BenchAxis {
  words: string;
  unit: string;
}

export interface BenchFit {
  axes: { x: BenchAxis; y: BenchAxis };
  /** one for each row of the table */
  rows: BenchRow[];
  /** lines of the fit, dense enough to draw */
  curves: { words: string; points: { x: number; y: number }[] }[];
  /** empty where the rows do not suffice: `notes` and `advice` tell why */
  results: BenchResult[];
  /** between loading and unloading, in the unit of y */
  loop: { words: string; value: number; unit: string } | null;
  /** of tests that break parts: EN 1990:2002, Annex D */
  samples: { mean: number; sd: number; characteristic: number; n: number } | null;
  /** what more readings would bring; null: enough */
  advice: string | null;
  /** what the fit could not use, or took for granted, in plain words */
  notes: string[];
}
