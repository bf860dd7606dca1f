import { curvesOf } from "../core/studies/axle-curves.ts";
import { besideOf } from "./beside.ts";
import { changesOf } from "./changes.ts";
import { drivingsOf } from "./drivings.ts";
import { guessesOf } from "./guesses.ts";
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
  besideOf,
  curvesOf,
  leansOf,
  mapOf,
  changesOf,
  drivingsOf,
  guessesOf,
  reportOf,
  runsOf,
  samplesOf,
  searchOf,
  stopJob,
};
export type WorkerApi = typeof api;
