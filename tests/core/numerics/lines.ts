import type { FitOptions, Fitted } from "../../../src/core/numerics/fit.ts";
import { fitColumns } from "../../../src/core/numerics/least-squares.ts";

/** A straight line: parameters are the value at x = 0 and the slope. */
export const fitLine = (x: readonly number[], measured: readonly number[], options: FitOptions = {}): Fitted =>
  fitColumns(
    x.map((v) => [1, v]),
    measured,
    options,
  );

/** A straight line through the origin: the only parameter is the slope. */
export const fitLineThroughOrigin = (x: readonly number[], measured: readonly number[], options: FitOptions = {}): Fitted =>
  fitColumns(
    x.map((v) => [v]),
    measured,
    options,
  );
