/** Every tolerance and numerical setting of the core, with its reason. */

/** Beam elements per arm: 8 corotational ones with the bowing term are exact to 0.002 % at 0.6 of the Euler load. */
export const ELEMENTS_PER_ARM = 8;
/**
 * Stiffness that centres a pin inside its clearance, as a share of the joint's own. Small enough that the force
 * (1e-7 · 1000 N/mm · 0.1 mm = 1e-5 N) disappears beside 1e-6 of the axle's weight; large enough for the dense solve.
 */
export const JOINT_CENTRING = 1e-7;
/** The same for tilt play of the wheel bearing. */
export const PLAY_CENTRING = 1e-7;
/** Equilibrium is reached when no force is out by more than this share of the axle's weight (model, section 5). */
export const RESIDUAL_SHARE = 1e-8;
/** Moments are compared with forces over this length, mm: the size of an arm. */
export const MOMENT_ARM_MM = 50;
/** Half-width of the rounded corner of a contact law when all is settled, mm; its force error is k·w/4 at most. */
export const FINAL_BLEND_MM = 1e-7;
/** The same for bearing play, rad. */
export const FINAL_BLEND_RAD = 1e-9;
/** Steps of the loading path for the budget by part: 16 leave some 1e-6° unassigned, 8 some 2e-4°. */
export const PATH_STEPS = 16;
/**
 * Share of the lighter wheel's load that a tyre which has not rolled may hold sideways by scrubbing: what pushes a wheel to
 * either end of its play (common practice, no source).
 */
export const SCRUB_SHARE = 0.2;
/** A range narrower than this is no play worth telling, °. */
export const BAND_SHOWN_DEG = 0.01;
/** While a limit that costs much is not nearer than this (utilization), a drag and the curves need not look at it everywhere. */
export const LIMIT_FAR = 0.4;
/**
 * Most Newton steps of one search for rest, of one way up to a load, of telling why a car does not stand, of the points between on a
 * loading path, and of the ranges that play leaves. Cars of sensible sizes need up to some 1400 for rest and 5000 to where they give
 * way; what needs more is at the corners of what a file may hold: contacts that open and close without end. Steps, not time, so that
 * the answer is the same on every machine; some ten to fifteen of them take a millisecond.
 */
export const WORK = { rest: 2500, load: 5200, whyNoRest: 2000, pathBetween: 3000, bands: 1500 } as const;
/**
 * A wheel that leans further than this lies on its side more than it stands, °: from 45° on the road presses the tyre more along its
 * axle than towards it, while the tread's bed (tread.ts) only knows give towards the axle. Its error of the give, 1/cos - 1, is 4 % at 15°
 * and 41 % at 45°; an answer beyond means nothing. It is also the largest lean that a file may call acceptable.
 */
export const LAID_OVER_DEG = 45;
