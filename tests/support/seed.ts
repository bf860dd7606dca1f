import fc from "fast-check";

/** The same cases in every run; SEED=n draws others, to look further than the suite does. */
fc.configureGlobal({ seed: Number(process.env["SEED"] ?? 20_261_125) });
