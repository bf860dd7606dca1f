import { curvesOf } from "./curves.ts";
import { leansOf } from "./leans.ts";

/** What a worker can be asked; plain functions, so that tests can call them too. */
export const api = { curvesOf, leansOf };
export type WorkerApi = typeof api;
