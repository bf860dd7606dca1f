import "./css/help.css";
import { TERM_GROUPS, TERMS, type Term, type TermKey, termHead } from "../view/terms.ts";
import { h, s } from "./dom.ts";
import { SKETCHES } from "./help-sketches.ts";

const HOVER_MS = 250;
const LEAVE_MS = 200;
const WIDTH_PX = 320;
const EDGE_PX = 8;

interface Bubble {
  el: HTMLElement;
  /** the word that is explained now */
  of: HTMLElement | null;
  /** pressed: it stays until it is dismissed */
  pinned: boolean;
  timer: number;
}
let bubble: Bubble | null = null;

function theBubble(): Bubble {
  if (bubble) return bubble;
  const el = h("div", { class: "help-pop", popover: "manual", id: "help-pop", role: "tooltip" });
  const b: Bubble = { el, of: null, pinned: false, timer: 0 };
  // the pointer may go into it, to read or to mark its words
  el.addEventListener("pointerenter", () => window.clearTimeout(b.timer));
  el.addEventListener("pointerleave", () => leave(b));
  document.body.append(el);
  document.addEventListener(
    "keydown",
    (e) => {
      if (e.key === "Escape" && b.of) {
        // what lies under it has its own way to be closed
        e.stopPropagation();
        hide(b);
      }
    },
    { capture: true },
  );
  document.addEventListener("pointerdown", (e) => {
    const at = e.target as Node;
    if (b.of && !b.of.contains(at) && !el.contains(at)) hide(b);
  });
  document.addEventListener("scroll", (e) => (b.of && (e.target as Node).contains?.(b.of) ? hide(b) : undefined), { capture: true, passive: true });
  bubble = b;
  return b;
}

function hide(b: Bubble): void {
  window.clearTimeout(b.timer);
  b.of?.removeAttribute("aria-describedby");
  b.of = null;
  b.pinned = false;
  if (b.el.matches(":popover-open")) b.el.hidePopover();
}

function leave(b: Bubble): void {
  window.clearTimeout(b.timer);
  if (b.pinned || b.of === document.activeElement) return;
  b.timer = window.setTimeout(() => hide(b), LEAVE_MS);
}

function show(word: HTMLElement, key: string, entry: Term): void {
  const b = theBubble();
  window.clearTimeout(b.timer);
  if (b.of === word || !word.isConnected) return;
  hide(b);
  b.of = word;
  b.el.replaceChildren(h("b", {}, termHead(entry)), ...[drawing(key)].filter((x) => x !== null), h("p", {}, entry.text));
  // it belongs to the landmark that its word stands in
  (word.closest("main, header, aside, footer") ?? document.body).append(b.el);
  b.el.showPopover();
  const r = word.getBoundingClientRect();
  const { offsetHeight } = b.el;
  const below = r.bottom + 6;
  b.el.style.left = `${Math.max(EDGE_PX, Math.min(r.left, window.innerWidth - WIDTH_PX - EDGE_PX))}px`;
  b.el.style.top = `${below + offsetHeight + EDGE_PX <= window.innerHeight ? below : Math.max(EDGE_PX, r.top - 6 - offsetHeight)}px`;
  word.setAttribute("aria-describedby", "help-pop");
  watch(b, word);
}

/** A word that is taken off the page, with the row that it stood in, takes its words along. */
function watch(b: Bubble, word: HTMLElement): void {
  window.setTimeout(() => {
    if (b.of !== word) return;
    if (word.isConnected) watch(b, word);
    else hide(b);
  }, LEAVE_MS);
}

/** A word of the page that explains itself where it stands: under the pointer, with the focus, or pressed, which keeps it open. */
export function term(key: TermKey, words: string | Node): HTMLElement {
  const entry = TERMS.get(key) as Term;
  const word = h("button", { type: "button", class: "term" }, words);
  word.addEventListener("pointerenter", (e) => {
    if (e.pointerType !== "mouse") return;
    const b = theBubble();
    window.clearTimeout(b.timer);
    if (!b.pinned) b.timer = window.setTimeout(() => show(word, key, entry), HOVER_MS);
  });
  word.addEventListener("pointerleave", () => leave(theBubble()));
  word.addEventListener("focus", () => {
    if (word.matches(":focus-visible")) show(word, key, entry);
  });
  word.addEventListener("blur", () => {
    const b = theBubble();
    if (b.of === word) hide(b);
  });
  word.addEventListener("click", () => {
    const b = theBubble();
    if (b.of === word && b.pinned) return hide(b);
    show(word, key, entry);
    b.pinned = true;
  });
  return word;
}

/** The words of a row that has a term, or just the words. */
export const termOr = (key: string | null, words: Node): Node => (key !== null && TERMS.has(key) ? term(key as TermKey, words) : words);

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

/** All terms by what they are about: the help page. */
export function helpList(): HTMLElement {
  return h(
    "div",
    { class: "help-list" },
    ...Object.entries(TERM_GROUPS).flatMap(([group, terms]) => [
      h("h3", {}, group),
      h(
        "dl",
        {},
        ...Object.entries(terms as Readonly<Record<string, Term>>).flatMap(([key, e]) => [h("dt", {}, termHead(e)), h("dd", {}, drawing(key), e.text)]),
      ),
    ]),
  );
}
