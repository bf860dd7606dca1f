/** Every small number of the linkage, with its reason. Lengths in mm unless said otherwise. */

/** Two pivots nearer than this are one point: such an arm or hub lies within the play of its own joints and has no direction. */
export const SAME_POINT_MM = 0.1;
/** Touching circles: relative to the radii, a few roundings of a squared distance. */
export const TOUCH_REL = 1e-13;
/** Sine of the angle between hub and arm below which an as-built corner already stands in line (dead centre): 0.006°. */
export const IN_LINE_REL = 1e-4;
/** The wheel centre's rise per turn of the lower arm, relative to the corner's size, below which it does not rise at all. */
export const NO_RISE_REL = 1e-9;
/** Sine of the angle between the arms below which they count as parallel: the instant centre is then over 1e11 arm lengths away. */
export const PARALLEL_SINE = 1e-12;
/** Accepted error of the wheel centre's height, relative to the corner's size: a few roundings above the arithmetic's noise. */
export const HEIGHT_REL = 1e-13;
/** With upper arm as long as the hub the fold has no direction at zero distance; the limit is set this share of the reach before it. */
export const FOLD_REL = 1e-7;
/** Cosine excess over 1 that is rounding, not a linkage that turns freely through a change point. */
export const CHANGE_POINT_COSINE = 1e-12;
/** Largest turn of the hub (rad) by which a position is mended where the lower arm's angle has run out of digits. */
export const MEND_RAD = 1e-6;
