import { curvesOf } from "../core/studies/axle-curves.ts";
import { besideOf } from "./beside.ts";
import { changesOf } from "./changes.ts";
import { bandsOf } from "./doubt-bands.ts";
import { pairedOf } from "./doubt-paired.ts";
import { toldOf } from "./doubt-told.ts";
import { drivingsOf } from "./drivings.ts";
import { stopJob } from "./jobs.ts";
import { leansOf } from "./leans.ts";
import { mapOf } from "./maps.ts";
import { reportOf } from "./reports.ts";
import { runsOf } from "./runs.ts";
import { samplesOf } from "./samples.ts";
import { searchOf } from "./searches.ts";

/** What a worker can be asked; plain functions, so that tests can call them too. */
export const api = {
  alive: (): boolean => true,
  bandsOf,
  besideOf,
  curvesOf,
  leansOf,
  mapOf,
  changesOf,
  drivingsOf,
  pairedOf,
  reportOf,
  runsOf,
  samplesOf,
  searchOf,
  stopJob,
  toldOf,
};
export type WorkerApi = typeof api;
