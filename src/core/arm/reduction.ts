import type { PlanarSegment } from "../analysis.ts";
import type { Arm } from "../design/types.ts";
import { type Arm3d, arm3dOf, beamProps, materialPoisson } from "./arm-frame.ts";
import { keptPerArm } from "./kept.ts";
import { armPlan } from "./layout.ts";
import { resolveMaterial } from "./materials.ts";
import { sectionProperties } from "./sections.ts";
import { clampedVerticalFlexibility, heldVerticalFlexibility, type VerticalFlexibility } from "./stiffness.ts";

/** seats closer than this to the pivot, the fork or the ball joint need no segments of their own (share of the arm); a touch wider than the frame's own snap */
const NEAR = 1.001e-3;

/**
 * Planar beam-column segments, inner to outer, that stand for the arm in the front view: with the pin's own
 * rotational stiffness put at the inner end they reproduce the spatial frame's vertical flexibility at the ball
 * joint, at the seat and between the two, and the axial flexibility of the ball joint and between it and the seat.
 * (What the seat's own pull along the arm bends the legs in plan has no counterpart in a chain and is left out.)
 *
 * Without a seat inside the legs everything is closed form: by symmetry neither the fork nor a held inner end turns
 * about y, so a pair of legs is one planar Timoshenko element with EI = 2(EI cos³ + GJ sin² cos). With a seat inside
 * angled legs, or pins that spin about y, the two compliances of each span are solved from the frame's flexibilities,
 * which are linear in them: an exact fit, no iteration. Legs flatter than some 83° to the arm may have no such chain;
 * the ball joint's flexibility with the seat held is met alone then.
 * @throws RangeError as buildArm3d
 */
export function planarReduction(arm: Arm, lengthMm: number, seatFraction: number | null): PlanarSegment[] {
  const plan = armPlan(arm, lengthMm);
  const material = resolveMaterial(arm.material);
  const poisson = materialPoisson(material);
  const leg = beamProps(sectionProperties(arm.section, poisson), material);
  const fork = plan.legEnd / lengthMm;
  const a = plan.legEnd;
  const { cos, sin, legLength: l } = plan;

  const bending = leg.eiY * cos ** 3;
  const ei = plan.legs * (bending + leg.gj * sin * sin * cos);
  // shear fitted to the antisymmetric mode: 1 + Φ' = (1 + Φ_leg) EI' / (legs EI cos³), Φ' = 12 EI'/(GA' a²)
  const phi = ((1 + (12 * leg.eiY) / (leg.gaZ * l * l)) * ei) / (plan.legs * bending) - 1;
  const ga = phi > 0 ? (12 * ei) / (phi * a * a) : Number.POSITIVE_INFINITY;
  const inPlane = (12 * leg.eiZ) / (l ** 3 * (1 + (12 * leg.eiZ) / (leg.gaY * l * l)));
  const ea = plan.legs * ((leg.ea * cos * cos) / l + inPlane * sin * sin) * a;

  const stem: PlanarSegment[] = [];
  if (fork < 1) {
    const p = arm.stemSection ? beamProps(sectionProperties(arm.stemSection, poisson), material) : leg;
    stem.push({ fromFraction: fork, toFraction: 1, ea: p.ea, ei: p.eiY, ga: p.gaZ });
  }
  const legs: PlanarSegment = { fromFraction: 0, toFraction: fork, ea, ei, ga };
  if (!(sin > 0)) return [legs, ...stem];
  const seatInLegs = seatFraction !== null && seatFraction > NEAR && seatFraction < fork - NEAR;
  if (!seatInLegs && !arm.pivotFreeAboutArm) return [legs, ...stem];
  // the frame with the seat where the fit needs it
  const frameWith = (seat: number | null) => arm3dOf(arm, lengthMm, seat);
  if (!arm.pivotFreeAboutArm) {
    const exact = legsWithSeat(frameWith(seatFraction), legs, stem);
    if (exact) return [...exact, ...stem];
  }
  if (!arm.pivotFreeAboutArm || arm.pivotStiffnessNmmPerDeg > 0) {
    const at = seatInLegs ? seatFraction : fork;
    const exact = hingedLegs(frameWith(at), at * lengthMm, legs, stem, HINGE) ?? hingedLegs(frameWith(at), at * lengthMm, legs, stem, SHORT_HINGE);
    if (exact) return [...exact, ...stem];
  }
  return [...scaledLegs(frameWith(seatFraction), legs, stem), ...stem];
}

/** Vertical give of a cantilevered stem on its own, fork to ball joint. */
export function stemGive(stem: PlanarSegment[], lengthMm: number): number {
  const s = stem[0];
  if (!s) return 0;
  const l = (s.toFraction - s.fromFraction) * lengthMm;
  return l ** 3 / (3 * s.ei) + l / s.ga;
}

/**
 * Two spans, pivot - seat - fork. A cantilever's flexibilities are f_ij = ∫ (x_i - s)(x_j - s)/EI + ∫ 1/GA, linear in
 * 1/EI and 1/GA of each span: the seat's two give the inner span, the ball joint's the outer one, whose EI and GA
 * keep the ratio they have in the undivided pair of legs. Legs spread much wider than they are long twist more than
 * they bend and would need a span of negative give: null then.
 */
export function legsWithSeat(a: Arm3d, held: PlanarSegment, stem: PlanarSegment[]): PlanarSegment[] | null {
  const L = a.lengthMm;
  const fraction = a.seatFraction ?? 1;
  const x = fraction * L;
  const end = a.plan.legEnd;
  const eiOverGa = held.ei / held.ga;
  const f = clampedVerticalFlexibility(a);
  const least = LEAST / held.ei;
  const bendInner = (2 * (f.tipSeat - f.seat)) / (x * x * (L - x));
  const shearInner = f.seat / x - (bendInner * x * x) / 3;
  const rest = f.tip - bendInner * bendIntegral(L, L, 0, x) - shearInner * x - stemGive(stem, L);
  const perBend = bendIntegral(L, L, x, end) + eiOverGa * (end - x);
  // of a short span hardly anything is left over: it may be stiffer than it should, as long as the ball joint does not notice
  const bendOuter = Math.max(rest / perBend, least);
  if (
    bendInner < least ||
    bendOuter * perBend - rest > UNNOTICED * (x > TIP_SEAT * L ? f.tip : heldVerticalFlexibility(f, L, x, a.pivotNmmPerRad)) ||
    !(shearInner > 0)
  )
    return null;
  const [eaInner, eaOuter] = axialSpans(a, x, held, stem);
  return [
    { fromFraction: 0, toFraction: fraction, ea: eaInner, ei: 1 / bendInner, ga: 1 / shearInner },
    { fromFraction: fraction, toFraction: end / L, ea: eaOuter, ei: 1 / bendOuter, ga: 1 / (bendOuter * eiOverGa) },
  ];
}

/** Flexibilities of a chain of spans held at the inner end: f_ij = ∫ (x_i - s)(x_j - s)/EI + ∫ 1/GA up to the nearer point. */
export function chainFlexibility(spans: PlanarSegment[], L: number, x: number): VerticalFlexibility {
  const f = { tip: 0, tipSeat: 0, seat: 0 };
  for (const s of spans) {
    const from = s.fromFraction * L;
    const to = s.toFraction * L;
    f.tip += bendIntegral(L, L, from, to) / s.ei + (to - from) / s.ga;
    const near = Math.min(to, x);
    if (near <= from) continue;
    f.tipSeat += bendIntegral(L, x, from, near) / s.ei + (near - from) / s.ga;
    f.seat += bendIntegral(x, x, from, near) / s.ei + (near - from) / s.ga;
  }
  return f;
}

/** length of the inner span that stands for the loose pins' give, share of the arm */
const HINGE = 0.02;
/** the same for legs so wide that all their give lies at the pivots */
const SHORT_HINGE = 0.003;
/** steps and relative accuracy of the search for the factor below */
const FACTOR_STEPS = 40;
const FACTOR_TOLERANCE = 1e-10;

/**
 * Loose pins: one factor on the held legs' compliances gives the ball joint's flexibility with the seat held exactly,
 * which is all that counts when the pins are free (a rigid swing then costs nothing). Sprung ones have a short soft
 * span at the pivot besides, which gives the flexibility of the ball joint with the seat let go. Without a seat only
 * the latter is wanted and the factor alone does it.
 */
export function scaledLegs(a: Arm3d, held: PlanarSegment, stem: PlanarSegment[], share = HINGE): PlanarSegment[] {
  const L = a.lengthMm;
  const end = a.plan.legEnd;
  const seat = a.seatFraction !== null && a.seatFraction > NEAR && a.seatFraction < 1 - NEAR ? a.seatFraction : null;
  const x = seat === null ? 0 : seat * L;
  const f = clampedVerticalFlexibility(a);
  const sprung = seat !== null && a.pivotNmmPerRad > 0;
  const h = sprung ? Math.min(share * L, Math.min(x, end) / 4) / L : 0;
  const spans = (factor: number): PlanarSegment[] => {
    const legs = { ...held, fromFraction: h, ei: held.ei / factor, ga: held.ga / factor };
    if (!sprung) return [legs, ...stem];
    // what the ball joint's flexibility lacks; never stiffer than the legs themselves
    const missing = f.tip - chainFlexibility([legs, ...stem], L, x).tip - (h * L) / legs.ga;
    const bend = Math.max(missing / bendIntegral(L, L, 0, h * L), LEAST / legs.ei);
    return [{ ...legs, fromFraction: 0, toFraction: h, ei: 1 / bend }, legs, ...stem];
  };
  const give = (factor: number) => {
    const c = chainFlexibility(spans(factor), L, x);
    return seat === null ? c.tip : heldVerticalFlexibility(c, L, x, a.pivotNmmPerRad);
  };
  const wanted = seat === null ? f.tip : heldVerticalFlexibility(f, L, x, a.pivotNmmPerRad);
  // nearly linear and rising: secant
  let last = 1;
  let lastGive = give(last);
  let factor = wanted / lastGive;
  for (let i = 0; i < FACTOR_STEPS; i++) {
    const g = give(factor);
    if (Math.abs(g - wanted) <= FACTOR_TOLERANCE * wanted || g === lastGive) break;
    const next = factor + ((wanted - g) * (factor - last)) / (g - lastGive);
    last = factor;
    lastGive = g;
    factor = Math.max(LEAST, next);
  }
  // a hinge nearer to the pivots where no legs are stiff enough for this one
  if (sprung && share > SHORT_HINGE && factor <= LEAST) return scaledLegs(a, held, stem, SHORT_HINGE);
  const found = spans(factor).slice(0, sprung ? 2 : 1);
  if (seat === null || !(x < end)) return found;
  const [eaInner, eaOuter] = axialSpans(a, x, held, stem);
  const main = found[found.length - 1] ?? held;
  const inside = found.slice(0, -1).map((s) => ({ ...s, ea: eaInner }));
  return [...inside, { ...main, toFraction: seat, ea: eaInner }, { ...main, fromFraction: seat, ea: eaOuter }];
}

/** shares of the held legs' bending compliance that are tried for the main span */
const TRIALS = [1, 0.7, 0.5, 0.3, 0.15, 0.05, 0.01];
/** share of the ball joint's flexibility, seat held, that a span kept from being any stiffer may add */
const UNNOTICED = 0.01;
/** a seat this near to the ball joint leaves next to nothing to give when it is held; the whole flexibility counts then */
const TIP_SEAT = 0.97;
/** no span is made more than this many times stiffer than the held legs */
const LEAST = 0.01;

/** ∫ (x_i - s)(x_j - s) ds */
const bendIntegral = (xi: number, xj: number, from: number, to: number): number =>
  xi * xj * (to - from) - ((xi + xj) * (to * to - from * from)) / 2 + (to ** 3 - from ** 3) / 3;

/**
 * Angled legs on sprung pins that also spin about the arm's axis give at their inner ends like a soft hinge: a short
 * inner span takes that give. With the main span's bending chosen, the hinge and the shear follow from the two
 * flexibilities of the point `at` (the seat inside the legs, else the fork), and the ball joint's own from the span
 * beyond it, or, at the fork, from the main span's bending itself. Held legs spread much wider than they are long are
 * met the same way. Where even that would need a span of negative give: null.
 */
export function hingedLegs(built: Arm3d, at: number, held: PlanarSegment, stem: PlanarSegment[], share: number): PlanarSegment[] | null {
  const L = built.lengthMm;
  const end = built.plan.legEnd;
  if (at >= L) return null;
  const f = clampedVerticalFlexibility(built);
  const tip = f.tip - stemGive(stem, L);
  const bend0 = 1 / held.ei;
  const eiOverGa = held.ei / held.ga;
  const h = Math.min(share * L, at / 4);
  const inner = (bend: number) => {
    const own = (xi: number, xj: number) => f[xi === xj ? "seat" : "tipSeat"] - bend * bendIntegral(xi, xj, h, at);
    const hinge = (own(at, L) - own(at, at)) / (bendIntegral(at, L, 0, h) - bendIntegral(at, at, 0, h));
    const shear = (own(at, at) - hinge * bendIntegral(at, at, 0, h)) / at;
    return { bend, hinge, shear, rest: tip - hinge * bendIntegral(L, L, 0, h) - bend * bendIntegral(L, L, h, at) - shear * at };
  };
  const least = LEAST * bend0;
  const positive = (s: { bend: number; hinge: number; shear: number }) => s.bend >= least && s.hinge >= least && s.shear > 0;
  let fit = inner(bend0);
  let outer = least;
  const beyond = end - at;
  if (beyond > 0) {
    const perBend = bendIntegral(L, L, at, end) + eiOverGa * beyond;
    for (const trial of TRIALS) {
      fit = inner(trial * bend0);
      outer = fit.rest / perBend;
      if (positive(fit) && outer >= least) break;
    }
  } else {
    const none = inner(0);
    fit = inner((bend0 * none.rest) / (none.rest - fit.rest));
  }
  if (!positive(fit) || outer < least) return null;
  const ga = 1 / fit.shear;
  const axial = axialSpans(built, at, held, stem);
  const spans = [
    { fromFraction: 0, toFraction: h / L, ea: axial[0], ei: 1 / fit.hinge, ga },
    { fromFraction: h / L, toFraction: Math.min(at, end) / L, ea: axial[0], ei: 1 / fit.bend, ga },
  ];
  if (beyond > 0) spans.push({ fromFraction: at / L, toFraction: end / L, ea: axial[1], ei: 1 / outer, ga: 1 / (outer * eiOverGa) });
  return spans;
}

/**
 * EA of the legs inside and outside a seat: from the ball joint's flexibility along the arm and the seat's motion
 * under the ball joint's pull.
 */
function axialSpans(a: Arm3d, at: number, held: PlanarSegment, stem: PlanarSegment[]): [number, number] {
  const end = a.plan.legEnd;
  if (!(at < end - NEAR * a.lengthMm)) return [held.ea, held.ea];
  const tip = a.flexibility[7]! - (stem[0] ? (a.lengthMm - end) / stem[0].ea : 0);
  const seat = a.flexibility[25]!;
  return [at / seat, (end - at) / (tip - seat)];
}

/** The planar stand-in of an arm, made once for each length and seat. Read only. */
export const planarSegmentsOf = keptPerArm((arm, lengthMm, seat) => planarReduction(arm, lengthMm, seat));
