import "pixi.js/unsafe-eval";
import { autoDetectRenderer, Container, Graphics, type Renderer, Ticker } from "pixi.js";
import { LAYERS, type Mark } from "../view/marks.ts";
import { paint } from "./paint.ts";
import { createPaper, type Paper } from "./paper.ts";
import { readTones, type Tones } from "./tones.ts";

export interface Drawing {
  /** takes the place of what stood for it when the graphics are lost or come back; words where the browser draws nothing */
  canvas: HTMLElement;
  /** lie under it, lowest first, with what stays while the car is dragged: the dots of the holes, the other design */
  under: HTMLCanvasElement[];
  resize(widthPx: number, heightPx: number): void;
  /** puts the marks on the sheet; only what changed is drawn anew */
  show(marks: readonly Mark[], paleness: number): void;
  /** marks that stand back while one part is looked at; null: none */
  dim(test: ((key: string) => boolean) | null): void;
  /** colours of the theme have changed */
  retone(): void;
}

/** True where WebGL is drawn by the processor: a plain canvas is many times faster there. */
function softwareWebgl(): boolean {
  const gl = document.createElement("canvas").getContext("webgl");
  if (!gl) return true;
  const info = gl.getExtension("WEBGL_debug_renderer_info");
  const name = String(info ? gl.getParameter(info.UNMASKED_RENDERER_WEBGL) : "");
  gl.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|software|basic render/i.test(name);
}

/** marks that go to canvases of their own below, lowest first */
const UNDER = ["paper", "ghost"] as const;

const STANDS_BACK = 0.4;

const NOTHING_DRAWN = "This browser gives the page nothing to draw on (no canvas), so the drawing is missing. The numbers work all the same.";

/** The first kind of renderer that this browser gives; null: none. */
async function firstOf(preference: ("webgl" | "canvas")[]): Promise<Renderer | null> {
  const made = autoDetectRenderer({
    preference,
    antialias: true,
    resolution: window.devicePixelRatio || 1,
    autoDensity: true,
    backgroundAlpha: 0,
    width: 100,
    height: 100,
    accessibilityOptions: { activateOnTab: false },
    eventFeatures: { move: false, globalMove: false, click: false, wheel: false },
  } as Parameters<typeof autoDetectRenderer>[0]);
  return made.catch((e: unknown) => {
    console.error(e);
    return null;
  });
}

function wordsInstead(): HTMLElement {
  const p = document.createElement("p");
  p.className = "nothing-drawn";
  p.textContent = NOTHING_DRAWN;
  return p;
}

interface Shown {
  graphics: Graphics;
  mark: Mark;
  seen: number;
}

export async function createDrawing(root: HTMLElement): Promise<Drawing> {
  let renderer = await firstOf(softwareWebgl() ? ["canvas"] : ["webgl", "canvas"]);
  // nothing is drawn unless something changed: no clock runs by itself
  for (const ticker of [Ticker.shared, Ticker.system]) {
    ticker.autoStart = false;
    ticker.stop();
  }
  const stage = new Container();
  const layers = LAYERS.map(() => stage.addChild(new Container()));
  const shown = new Map<string, Shown>();
  let tones: Tones = readTones(root);
  let round = 0;
  let pale = 0;
  let size = { w: 100, h: 100 };
  let dimmed: ((key: string) => boolean) | null = null;
  let canvas: HTMLElement = wordsInstead();
  const under = new Map<string, Paper>(UNDER.map((key) => [key, createPaper()]));

  const put = (key: string, mark: Mark): Graphics => {
    const graphics = new Graphics();
    paint(graphics, mark.prims, tones);
    graphics.alpha = dimmed?.(key) ? STANDS_BACK : 1;
    layers[mark.layer]?.addChild(graphics);
    return graphics;
  };
  const sizeIt = (): void => renderer?.resize(Math.max(1, Math.round(size.w)), Math.max(1, Math.round(size.h)), window.devicePixelRatio || 1);
  const render = (): void => renderer?.render(stage);
  /** Draws by this renderer from now on, all anew. */
  const drawBy = (next: Renderer): void => {
    renderer = next;
    const to = next.canvas as HTMLCanvasElement;
    to.setAttribute("aria-hidden", "true");
    canvas.replaceWith(to);
    canvas = to;
    for (const [key, s] of shown) {
      s.graphics.destroy();
      s.graphics = put(key, s.mark);
    }
    sizeIt();
    render();
    if (next.name !== "webgl") return;
    to.addEventListener("webglcontextlost", () => void firstOf(["canvas"]).then((plain) => plain && renderer === next && drawBy(plain)), { once: true });
    // pixi keeps what it had on the lost context: one of its own is sure to be whole
    to.addEventListener("webglcontextrestored", () => void firstOf(["webgl", "canvas"]).then((fresh) => fresh && drawBy(fresh)), { once: true });
  };
  if (renderer) drawBy(renderer);

  return {
    get canvas() {
      return canvas;
    },
    under: [...under.values()].map((u) => u.canvas),
    resize(w, h) {
      size = { w, h };
      sizeIt();
      for (const u of under.values()) u.resize(w, h);
      // a canvas that changed its pixels is empty, also where the marks stay what they were
      render();
    },
    show(marks, paleness) {
      round++;
      let changed = pale !== paleness;
      pale = paleness;
      for (const [key, u] of under) u.show(marks.find((m) => m.key === key) ?? null, tones);
      for (const mark of marks) {
        if (under.has(mark.key)) continue;
        const old = shown.get(mark.key);
        if (!old) {
          shown.set(mark.key, { graphics: put(mark.key, mark), mark, seen: round });
          changed = true;
          continue;
        }
        old.seen = round;
        if (old.mark === mark) continue;
        if (old.mark.layer !== mark.layer) layers[mark.layer]?.addChild(old.graphics);
        paint(old.graphics, mark.prims, tones);
        old.mark = mark;
        changed = true;
      }
      for (const [key, s] of shown) {
        if (s.seen === round) continue;
        s.graphics.destroy();
        shown.delete(key);
        changed = true;
      }
      if (!changed) return;
      stage.alpha = 1;
      // the paper stays; the car goes pale when its drawing is no longer the answer
      for (const l of layers) l.alpha = 1 - paleness;
      render();
    },
    dim(test) {
      dimmed = test;
      for (const [key, s] of shown) s.graphics.alpha = test?.(key) ? STANDS_BACK : 1;
      for (const [key, u] of under) u.canvas.style.opacity = test?.(key) ? String(STANDS_BACK) : "";
      render();
    },
    retone() {
      tones = readTones(root);
      for (const u of under.values()) u.retone(tones);
      for (const s of shown.values()) paint(s.graphics, s.mark.prims, tones);
      render();
    },
  };
}
