type Attrs = Record<string, string | number | boolean | null | undefined | ((e: never) => void)>;

const SVG = "http://www.w3.org/2000/svg";

function fill(el: Element, attrs: Attrs, children: readonly (Node | string | null | false)[]): void {
  for (const [key, value] of Object.entries(attrs)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") el.addEventListener(key.replace(/^on/, ""), value as unknown as EventListener);
    else el.setAttribute(key, value === true ? "" : String(value));
  }
  for (const c of children) if (c !== null && c !== false) el.append(c);
}

/** An element with attributes (functions are listeners: onclick) and children. */
export function h<K extends keyof HTMLElementTagNameMap>(tag: K, attrs: Attrs = {}, ...children: (Node | string | null | false)[]): HTMLElementTagNameMap[K] {
  const el = document.createElement(tag);
  fill(el, attrs, children);
  return el;
}

export function s<K extends keyof SVGElementTagNameMap>(tag: K, attrs: Attrs = {}, ...children: (Node | string | null | false)[]): SVGElementTagNameMap[K] {
  const el = document.createElementNS(SVG, tag);
  fill(el, attrs, children);
  return el;
}

/** What was last written where: asking the page itself costs more than the rest of a frame. */
const written = new WeakMap<Element, Map<string, string | null>>();

function isNew(el: Element, key: string, value: string | null): boolean {
  let kept = written.get(el);
  if (!kept) {
    kept = new Map();
    written.set(el, kept);
  }
  if (kept.get(key) === value) return false;
  kept.set(key, value);
  return true;
}

const TEXT = "#text";
const PLACE = "#place";
const SIZE = "#size";

/** Writes text only where it changed, so that nothing is laid out anew for nothing. The element's text is written here alone. */
export function setText(el: Element, text: string): void {
  if (isNew(el, TEXT, text)) el.textContent = text;
}

export function setAttr(el: Element, name: string, value: string | number | null): void {
  const text = value === null ? null : String(value);
  if (!isNew(el, name, text)) return;
  if (text === null) el.removeAttribute(name);
  else el.setAttribute(name, text);
}

/** Place of an element on its sheet, px. */
export function setPlace(el: HTMLElement, x: number, y: number): void {
  const text = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
  if (isNew(el, PLACE, text)) el.style.transform = text;
}

/** Makes an element so wide and high, px. */
export function setSize(el: HTMLElement, w: number, h: number): void {
  const text = `${w.toFixed(1)}px ${h.toFixed(1)}px`;
  if (!isNew(el, SIZE, text)) return;
  el.style.width = `${w.toFixed(1)}px`;
  el.style.height = `${h.toFixed(1)}px`;
}

/** Keeps a list of children in step with items by key. */
export function keyed<T, E extends Element>(
  parent: Element,
  items: readonly T[],
  key: (item: T) => string,
  make: (item: T) => E,
  update: (el: E, item: T, index: number) => void,
): void {
  const store = (parent as Element & { keyedNodes?: Map<string, E> }).keyedNodes ?? new Map<string, E>();
  (parent as Element & { keyedNodes?: Map<string, E> }).keyedNodes = store;
  const seen = new Set<string>();
  let next: Node | null = parent.firstChild;
  items.forEach((item, i) => {
    const k = key(item);
    seen.add(k);
    let el = store.get(k);
    if (!el) {
      el = make(item);
      store.set(k, el);
    }
    if (el !== next) parent.insertBefore(el, next);
    next = el.nextSibling;
    update(el, item, i);
  });
  for (const [k, el] of store) {
    if (seen.has(k)) continue;
    el.remove();
    store.delete(k);
  }
}
