/** Standard gravity, m/s² (BIPM, exact by convention). */
export const G = 9.80665;
export const DEG = Math.PI / 180;
/** N·mm per degree to N·mm per radian. */
export const perDegToPerRad = (k: number): number => k / DEG;
/** rad to °. */
export const radToDeg = (a: number): number => a / DEG;
/** ° to rad. */
export const degToRad = (a: number): number => a * DEG;
/** m/s to km/h. */
export const mpsToKmh = (v: number): number => v * 3.6;
/** km/h to m/s. */
export const kmhToMps = (v: number): number => v / 3.6;
/** weight of a mass, N */
export const weightN = (kg: number): number => kg * G;
