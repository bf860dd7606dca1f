/**
 * Plane vectors as plain tuples (float64). Picture frame: x to the right as seen from behind the car
 * (x = -y of ISO 8855), z up, angles counter-clockwise. gl-matrix works on these tuples; its create()
 * would give Float32 arrays and is never called in the core.
 */
export type V2 = [number, number];
export type V3 = [number, number, number];
