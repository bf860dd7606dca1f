import { h, s } from "./dom.ts";

interface Entry {
  name: string;
  text: string;
  /** path of a small drawing, 64 by 44 px */
  sketch?: string;
}

/** Every term of the page in one plain sentence or two, with a small drawing where a line says more. */
const TERMS: Record<string, Entry> = {
  camber: {
    name: "Lean (camber)",
    text: "How far the wheel plane stands off upright, seen from behind. Positive: the top leans away from the car. A leaning tyre stands on one edge and loses grip.",
    sketch: "M10 40H54M32 40L42 8M32 40V6M32 12A28 28 0 0 1 40.5 13.5",
  },
  camberBudget: {
    name: "What leaned it (camber budget)",
    text: "The lean, split by cause; the steps add up to it. By part: whose give is to blame, also when it acts through body roll. By motion: built in, body roll, travel, and what bent or gave directly.",
    sketch: "M6 8H22V14H34V22H46V30H54V38",
  },
  utilization: {
    name: "What gives first (utilization)",
    text: "The load on a part over what it can take. 1 is where it gives; the post stands there. Nearer the post is nearer to failing.",
    sketch: "M6 18H50V28H6ZM44 8V38",
  },
  cornering: {
    name: "Cornering (lateral acceleration)",
    text: "How hard the car is pushed sideways in a curve, as a share of its weight. 0.8 g on a 6 m curve is 24.7 km/h. Positive here: a left-hand curve, so the right wheel is the outer one.",
    sketch: "M12 22H46M38 15L48 22L38 29",
  },
  bump: { name: "Bumps", text: "The road raised (or sunk, below zero) under one wheel, standing still.", sketch: "M4 38H20L24 30H40L44 38H60" },
  rollCentre: {
    name: "Roll centre",
    text: "The point the body turns about when the car leans in a curve, as long as nothing bends. It is where the lines from both treads through their instant centres meet. Higher: less roll, more jacking.",
    sketch: "M4 38L60 20M60 38L4 20M32 29m-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0",
  },
  instantCentre: {
    name: "Instant centre",
    text: "Where the lines of upper and lower arm meet: the wheel swings about this point just now.",
    sketch: "M60 8L8 26M60 40L8 26",
  },
  motionRatio: { name: "Motion ratio", text: "How much the spring shortens per mm of wheel travel. The wheel feels the spring rate times this ratio squared." },
  retention: {
    name: "What holds the wheel (retention)",
    text: "A lip, a pin across or a screwed ring keeps the wheel on its hub. The side force at the road pries the wheel off; prying is mostly far more than the straight pull.",
    sketch: "M8 10H30V34H8M30 16H44V10H50M30 28H44V34H50",
  },
  play: {
    name: "Play and clearance",
    text: "How far parts move before they push. Inside that range the wheel finds its own place; the band shows from where to where.",
    sketch: "M32 22m-14 0a14 14 0 1 0 28 0a14 14 0 1 0 -28 0M36 22m-8 0a8 8 0 1 0 16 0a8 8 0 1 0 -16 0",
  },
  stiffer: {
    name: "Made 10 % stiffer",
    text: "How the lean would change if this part alone were a tenth stiffer: the quickest way to see what is worth a change.",
  },
  safe: { name: "Safe speed", text: "The speed on this radius at which the first limit is reached, from cornering alone on a flat road. A bump lowers it." },
  stop: { name: "Bump stop and droop stop", text: "Blocks that end the spring's travel. On its stop a spring is suddenly many times stiffer." },
};

let pop: HTMLElement | null = null;

function popover(): HTMLElement {
  if (!pop) {
    pop = h("div", { class: "help-pop", popover: "auto", id: "help-pop" });
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
    box.replaceChildren(...explain(entry));
    const r = button.getBoundingClientRect();
    const left = Math.max(8, Math.min(r.left, window.innerWidth - 328));
    box.style.left = `${left}px`;
    box.style.top = `${Math.max(8, Math.min(r.bottom + 6, window.innerHeight - 200))}px`;
    (box as HTMLElement & { showPopover(): void }).showPopover();
  });
  return button;
}

function explain(e: Entry): Node[] {
  const parts: Node[] = [h("b", {}, e.name)];
  if (e.sketch) parts.push(s("svg", { class: "help-sketch", viewBox: "0 0 64 44", width: 96, height: 66, "aria-hidden": "true" }, s("path", { d: e.sketch })));
  parts.push(h("p", {}, e.text));
  return parts;
}

/** All terms in one list, for the menu. */
export function helpList(): HTMLElement {
  return h("dl", { class: "help-list" }, ...Object.values(TERMS).flatMap((e) => [h("dt", {}, e.name), h("dd", {}, e.text)]));
}
