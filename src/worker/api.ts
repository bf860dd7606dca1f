import { curvesOf } from "./curves.ts";

/** What a worker can be asked; plain functions, so that tests can call them too. */
export const api = { curvesOf };
export type WorkerApi = typeof api;
