/** How many cars are drawn, and by which seed, where nobody says otherwise: the same on page, report and command line, so that the numbers are the same. */
export const USUAL_DRAW = { samples: 512, seed: 1 } as const;
