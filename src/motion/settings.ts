/** Every setting of the motion part, with its reason; README.md tells the measurements behind them. */

/** One planck unit in mm: planck's own lengths (slop, largest correction) are made for bodies of 0.1 to 10 units. */
export const UNIT_MM = 10;
/** N to planck's force (kg · units / s²), N·mm to planck's torque (kg · units² / s²). */
export const FORCE_TO_PLANCK = 1000 / UNIT_MM;
export const TORQUE_TO_PLANCK = (1e-3 * 1e6) / (UNIT_MM * UNIT_MM);

/** Steps per second of motion; ten to a sample of the trace. */
export const STEPS_PER_SECOND = 2400;
/** A kerb is met in less than a millisecond: there 2400 leave the sharpest peak of a joint 2.5 % low (light car), 2880 leave it 1 % low. */
export const STEPS_PER_SECOND_AT_A_KERB = 2880;
export const SAMPLES_PER_SECOND = 240;

/** Beam elements per arm: four give the camber of eight within 1e-4° and take a quarter off the time of a new tangent. */
export const MOTION_ELEMENTS_PER_ARM = 4;

/** planck: iterations that hold the bearing pins, and lengths it takes for closed (units, rad). */
export const VELOCITY_ITERATIONS = 8;
export const POSITION_ITERATIONS = 4;
export const LINEAR_SLOP = 5e-4;
export const ANGULAR_SLOP = 5e-4;

/**
 * Shares of the forces at the end, at the start and one step before the start of a step in the force that planck is handed
 * (the generalised Newmark family with gamma = 1/2 + d, beta = (1 + d)²/4): second order, and modes that the step cannot follow die out.
 * Adds a damping ratio of d·ω·h/2: 0.007 % to a body that heaves at 4 Hz, 0.4 % to a hub that rings at 500 Hz.
 */
const D = 0.01;
const BETA = (1 + D) ** 2 / 4;
export const WEIGHT_END = BETA;
export const WEIGHT_START = 1 + D - 2 * BETA;
export const WEIGHT_BEFORE = BETA - D;

/** A step is solved when no force is out by more than this share of the axle's weight. */
export const STEP_RESIDUAL_SHARE = 5e-5;
export const MAX_ITERATIONS = 40;
/** The tangent is made anew when an iteration leaves more than this share of the residual. */
export const RENEW_SHARE = 0.2;
/** Rounded corners of the contact laws, mm and rad: far below any clearance, wide enough for Newton's method to see them. */
export const BLEND_MM = 1e-3;
export const BLEND_RAD = 2e-5;

/** Pins in holes and bearings lose some energy: damping as a time, damping coefficient over stiffness, s (common practice for plastics, no source). */
export const JOINT_DAMPING_S = 1e-4;
export const BEARING_DAMPING_S = 2e-4;
/** Damping ratio of the unsprung mass on its tyre (from memory: 0.03 to 0.1 for foam and soft rubber). */
export const TYRE_DAMPING_RATIO = 0.06;
/** Side force per vertical force and radian of slip of a rolling tyre below its grip (from memory: 6 to 16). */
export const SLIP_STIFFNESS_PER_RAD = 8;
/** Way over which a tyre builds up its side force, over its radius (from memory: 0.3 to 1); a carcass that gives sideways has its own. */
export const RELAXATION_OVER_RADIUS = 0.5;
/** A wheel that stands still would scrub without end; below this speed it scrubs as at this speed, m/s. */
export const SLOWEST_ROLL_MPS = 0.5;
/** Stiffness of a tyre's flank against a kerb over the tyre's vertical one (assumption: the flank meets the rim soon). */
export const FLANK_OVER_VERTICAL = 2;
export const FLANK_DAMPING_S = 6e-4;
/** What scrapes over the ground when a wheel is gone or the body touches down, N/mm, and its damping as a time, s. */
export const SCRAPE_N_PER_MM = 60;
export const SCRAPE_DAMPING_S = 6e-4;
/** Lowest point of a hub below its lower ball joint, and of the body below its lower inner pivots, mm (assumption). */
export const HUB_BELOW_JOINT_MM = 8;
export const BODY_BELOW_PIVOT_MM = 12;

/** Body as a uniform box: width over track and height over the height of its centre of gravity (assumption). */
export const BODY_WIDTH_SHARE = 0.7;
export const BODY_HEIGHT_SHARE = 1.2;
/** Radius at which a wheel's mass turns, over its outer radius (assumption: between a disc and a thin ring). */
export const WHEEL_MASS_RADIUS_SHARE = 0.8;
/** Least share of the unsprung mass that stays with the hub, so that planck has a body to move. */
export const LEAST_HUB_SHARE = 0.02;

/** Tyre that has come off: share of the wheel's mass, radius of the bare rim over the tyre's, its grip and its stiffness over the tyre's (assumptions). */
export const TYRE_MASS_SHARE = 0.4;
export const RIM_RADIUS_SHARE = 0.72;
export const RIM_GRIP = 0.35;
export const RIM_STIFFNESS_FACTOR = 4;
/** How long a trace goes on after something came off, s. */
export const AFTERMATH_S = 0.6;

/** Hand that drags the body: stiffness over the axle's weight per mm, and damping ratio. */
export const HAND_WEIGHT_PER_MM = 0.5;
export const HAND_DAMPING_RATIO = 0.7;
/** Arm stresses are told again when the arm's loads have grown by this share since the last time, and at least this often, s. */
export const ARM_RENEW_SHARE = 0.01;
export const ARM_RENEW_S = 1 / 15;
/** Buckling is told again after the load has grown by this share, unless it is nearer than this to its limit; its trace shows the worst so far. */
export const BUCKLING_RENEW_SHARE = 0.1;
export const BUCKLING_NEAR = 0.7;
/** Lever that makes an arm's push comparable with its moments, mm: half the height of a slender arm. */
export const ARM_PUSH_LEVER_MM = 5;
