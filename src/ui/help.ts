import "./css/help.css";
import type { LimitName } from "../core/analysis.ts";
import { h, s } from "./dom.ts";
import { SKETCHES } from "./help-sketches.ts";

interface Entry {
  name: string;
  text: string;
}

/** Every term of the page in one plain sentence or two; each has its small drawing. */
const TERMS: Record<string, Entry> = {
  camber: {
    name: "Lean (camber)",
    text: "How far the wheel plane stands off upright, seen from behind. Positive: the top leans away from the car. A leaning tyre stands on one edge and loses grip.",
  },
  camberBudget: {
    name: "What leaned it (camber budget)",
    text: "The lean, split by cause; the steps add up to it. By part: whose give is to blame, also when it acts through body roll. By motion: built in, body roll, travel, and what bent or gave directly.",
  },
  utilization: {
    name: "What gives first (utilization)",
    text: "The load on a part over what it can take. 1 is where it gives; the post stands there. Nearer the post is nearer to failing.",
  },
  cornering: {
    name: "Cornering (lateral acceleration)",
    text: "How hard the car is pushed sideways in a curve, as a share of its weight. 0.8 g on a 6 m curve is 24.7 km/h. Positive here: a left-hand curve, so the right wheel is the outer one.",
  },
  bump: { name: "Bumps", text: "The road raised (or sunk, below zero) under one wheel, standing still." },
  rollCentre: {
    name: "Roll centre",
    text: "The point the body turns about when the car leans in a curve, as long as nothing bends. It is where the lines from both treads through their instant centres meet. Higher: less roll, more jacking.",
  },
  instantCentre: {
    name: "Instant centre",
    text: "Where the lines of upper and lower arm meet: the wheel swings about this point just now.",
  },
  motionRatio: { name: "Motion ratio", text: "How much the spring shortens per mm of wheel travel. The wheel feels the spring rate times this ratio squared." },
  retention: {
    name: "What holds the wheel (retention)",
    text: "A lip, a pin across or a screwed ring keeps the wheel on its hub. The side force at the road pries the wheel off; prying is mostly far more than the straight pull.",
  },
  play: {
    name: "Play and clearance",
    text: "How far parts move before they push. Inside that range the wheel finds its own place; the band shows from where to where.",
  },
  stiffer: {
    name: "Made 1 % stiffer",
    text: "How the lean would change if this part alone were a hundredth stiffer: the quickest way to see what is worth a change.",
  },
  safe: { name: "Safe speed", text: "The speed on this radius at which the first limit is reached, from cornering alone on a flat road. A bump lowers it." },
  stop: { name: "Bump stop", text: "A block that ends the spring's travel when the wheel goes up. On its stop the spring is suddenly many times stiffer." },
  droopStop: {
    name: "Droop stop",
    text: "What ends the spring's travel when the wheel hangs down. It pulls; without one the spring can drop out of its seat and the car tips earlier.",
  },
  preload: { name: "Packing (preload)", text: "Rings under the spring. The car stands higher; the spring does not become harder." },
  antiRollBar: {
    name: "Anti-roll bar",
    text: "A bar that joins left and right arm. It twists when one wheel goes up and the other down, and so holds the body level in a curve.",
  },
  camberGain: { name: "Lean over travel (camber gain)", text: "How much the wheel leans per mm that it moves up, from the arms' geometry alone." },
  scrubRadius: {
    name: "Scrub radius",
    text: "On the road: how far the line through the two outer joints meets it from the middle of the tread. Larger: pushes at the tread twist the steering more.",
  },
  kingpin: { name: "Lean of the steering axis (kingpin inclination)", text: "How far the line through the two outer joints leans inwards, seen from behind." },
  wheelLoad: {
    name: "Weight on a wheel (wheel load)",
    text: "How hard the road pushes up on the tyre. In a curve the outer wheel gets more, the inner one less.",
  },
  prying: {
    name: "Prying at the hub lip",
    text: "The side force acts at the road, far below the hub, and levers the wheel off. Mostly five to ten times worse than the straight pull.",
  },
  crossPin: { name: "Cross-pin", text: "A pin right through wheel and hub. It must be sheared in two places before the wheel comes off." },
  buckling: { name: "Buckling", text: "A slender arm that is pressed along its length jumps out sideways, long before its material is at its limit." },
  yield: { name: "Yield", text: "The stress from which the material stays bent or breaks. In N/mm², the force on each square millimetre." },
  set: {
    name: "Takes a set (permanent set, creep)",
    text: "A plastic part that carries more than about half of its yield stress for long stays a little bent. A caution: the part still holds today.",
  },
  rose: {
    name: "Stiffness rose",
    text: "How hard the ball joint must be pushed for 1 mm, in every direction. Far out is stiff; the rings are powers of ten, so that one ring further is ten times stiffer.",
  },
  stiffness: {
    name: "Stiffness",
    text: "How many newtons push the ball joint 1 mm that way. Twice the stiffness, half the bend. 1 N is the weight of about 100 g.",
  },
  fork: {
    name: "Fork point and spread",
    text: "Where one stem becomes two legs, and how far apart their pins are on the car. Wide legs hold well along the road; each leg alone is thin up and down.",
  },
  unseating: {
    name: "Tyre leaves the rim (unseating)",
    text: "Side force pulls the tyre off its rim. A stretched tyre also lifts as it spins, so it holds less at speed.",
  },
  grip: {
    name: "Grip and sliding (friction)",
    text: "Side force that the tyre can hold, over the weight on it. Beyond it the wheels slide, and nothing leans any further.",
  },
  tipping: { name: "Wheel lift and tipping", text: "The inner wheel has no weight left on it. From here on the car tips." },
  heat: { name: "Hub heat (friction)", text: "Rubbing faces warm the hub; plastics lose strength as they warm." },
  fit: {
    name: "Room to move (clearance to the body)",
    text: "Tyre and arms through their travel, against the shell and what must stay free. A caution, told in mm; it counts for the safe speed only where you say that it must hold.",
  },
  belowRoad: {
    name: "Below the road (ground clearance)",
    text: "A pin, an arm or the body reaches lower than the road where the car stands now. It would drag there, or a height was typed wrongly.",
  },
  pullOut: { name: "Joint pulls apart (pull-out)", text: "The force that draws the ball or pin out of its socket." },
  treadPressure: {
    name: "Bars under the tread (contact pressure)",
    text: "How hard the road pushes on each strip of the tread. Upright: all alike. Leaning: one edge carries more and the other lifts off; the load then sits at that edge and works on hub and arms from there.",
  },
  unsprungMass: {
    name: "Mass below the spring (unsprung mass)",
    text: "Wheel, hub and what moves with them. It follows the road and not the body; its weight never goes through the spring, and heavy wheels hop on bumps.",
  },
  roll: { name: "Body roll", text: "How far the body leans out of the curve. Soft springs let it roll, and it takes the arms and the wheels along." },
  travel: { name: "Wheel travel", text: "How far the wheel has gone up against the body, in mm; below zero it hangs down." },
  jacking: {
    name: "Jacking",
    text: "Arms that stand steep turn side force into lift: in a curve the body is pushed up and the wheels tuck under. A high roll centre does it most.",
  },
  bearing: { name: "Wheel bearing (tilt stiffness)", text: "How much the wheel tilts on its hub when it is levered, after its play is used up." },
};

/** The term that explains what a limit is about. */
export const LIMIT_TERMS: Record<LimitName, string> = {
  hubRetention: "retention",
  armYield: "yield",
  armSet: "set",
  armBuckling: "buckling",
  tyreOffRim: "unseating",
  jointPullOut: "pullOut",
  camber: "camber",
  springOnStop: "stop",
  wheelLift: "tipping",
  sliding: "grip",
  fit: "fit",
  belowRoad: "belowRoad",
  hubHeat: "heat",
};

let pop: HTMLElement | null = null;

function popover(): HTMLElement {
  if (!pop) {
    pop = h("div", { class: "help-pop", popover: "auto", id: "help-pop", role: "dialog" });
    document.body.append(pop);
  }
  return pop;
}

/** A word of the page that explains itself when it is pressed. */
export function term(key: string, words: string): HTMLElement {
  const entry = TERMS[key];
  if (!entry) return h("span", {}, words);
  const button = h("button", { type: "button", class: "term", "aria-haspopup": "dialog", title: entry.text }, words);
  button.addEventListener("click", () => {
    const box = popover();
    box.setAttribute("aria-label", entry.name);
    box.replaceChildren(...explain(key, entry));
    const r = button.getBoundingClientRect();
    const left = Math.max(8, Math.min(r.left, window.innerWidth - 328));
    box.style.left = `${left}px`;
    box.style.top = `${Math.max(8, Math.min(r.bottom + 6, window.innerHeight - 240))}px`;
    (box as HTMLElement & { showPopover(): void }).showPopover();
  });
  return button;
}

/** The small drawing of a term, in the colours of the page. */
function drawing(key: string): SVGSVGElement | null {
  const sketch = SKETCHES[key];
  if (!sketch) return null;
  return s(
    "svg",
    { class: "help-sketch", viewBox: "0 0 96 66", width: 144, height: 99, "aria-hidden": "true" },
    ...sketch.map(([look, d]) => s("path", { class: `sk-${look}`, d })),
  );
}

function explain(key: string, e: Entry): Node[] {
  return [h("b", {}, e.name), ...[drawing(key)].filter((x) => x !== null), h("p", {}, e.text)];
}

/** All terms in one list, for the menu. */
export function helpList(): HTMLElement {
  return h("dl", { class: "help-list" }, ...Object.entries(TERMS).flatMap(([key, e]) => [h("dt", {}, e.name), h("dd", {}, drawing(key), e.text)]));
}
