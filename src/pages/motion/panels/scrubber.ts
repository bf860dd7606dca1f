import { listenRail } from "../../../input/rail.ts";
import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { fixed } from "../../../view/format.ts";
import { timeMarks } from "../picture/tracks.ts";

/** Room left and right of the time axis, px; rows and axis share it. */
export const marginsOf = (width: number): { left: number; right: number } => (width >= 600 ? { left: 150, right: 108 } : { left: 16, right: 16 });

export interface ScrubberHooks {
  play(): void;
  step(by: 1 | -1): void;
  slow(): void;
  seek(timeS: number): void;
  /** true: the key was one of the slider's */
  key(key: string, shift: boolean): boolean;
}

interface ScrubberModel {
  /** end of what is recorded, and of the axis */
  endS: number;
  axisS: number;
  playing: boolean;
  slow: boolean;
  /** where the playhead can go: nowhere, only on (nothing is recorded, the axis is empty), or both ways */
  reach: "none" | "on" | "both";
}

export interface Scrubber {
  el: HTMLElement;
  update(model: ScrubberModel): void;
  at(timeS: number): void;
  /** time under a point of the page */
  timeAt(clientX: number): number;
}

const AXIS_Y = 26;
const BOB = "M0 0 C-3 -6 -7 -10 -7 -17 C-7 -23 -3.5 -26 0 -26 C3.5 -26 7 -23 7 -17 C7 -10 3 -6 0 0Z";

/** Play, step, a tenth of the speed, and the time axis whose bob is the playhead. */
export function createScrubber(hooks: ScrubberHooks): Scrubber {
  const playMark = s("path", { d: "M2 1L18 11L2 21Z" });
  const play = h(
    "button",
    { type: "button", class: "transport play", onclick: () => hooks.play() },
    s("svg", { viewBox: "0 0 20 22", width: 20, height: 22, "aria-hidden": "true" }, playMark),
  );
  const step = (by: 1 | -1): HTMLButtonElement =>
    h(
      "button",
      {
        type: "button",
        class: "transport step",
        "aria-label": by > 0 ? "one sample on" : "one sample back",
        title: by > 0 ? "one sample on" : "one sample back",
        onclick: () => hooks.step(by),
      },
      s(
        "svg",
        { viewBox: "0 0 20 22", width: 18, height: 20, "aria-hidden": "true" },
        s("path", { d: by > 0 ? "M2 1V21M7 1L19 11L7 21Z" : "M18 1V21M13 1L1 11L13 21Z" }),
      ),
    );
  const slow = h("button", { type: "button", class: "transport slow", "aria-label": "1/10 speed, slow motion", onclick: () => hooks.slow() }, "1/10");
  const ticks = s("path", { class: "ticks" });
  const rail = s("path", { class: "rail" });
  const ahead = s("path", { class: "rail ahead" });
  const numbers = s("g", { class: "numbers" });
  const bob = s("path", { class: "bob", d: BOB });
  const line = s(
    "svg",
    { class: "ruler time-axis", role: "slider", tabindex: 0, "aria-label": "time in the run", "aria-valuemin": 0, height: 56 },
    ticks,
    ahead,
    rail,
    numbers,
    bob,
  );
  const back = step(-1);
  const on = step(1);
  const el = h("div", { class: "scrubber" }, h("div", { class: "transports", role: "group", "aria-label": "playback" }, play, back, on, slow), line);
  let width = 0;
  let model: ScrubberModel = { endS: 0, axisS: 0, playing: false, slow: true, reach: "none" };
  let now = 0;
  const room = (): { left: number; right: number } => marginsOf(width);
  const toX = (t: number): number => room().left + (model.axisS > 0 ? t / model.axisS : 0) * Math.max(1, width - room().left - room().right);

  const timeAt = (clientX: number): number => {
    const x = clientX - line.getBoundingClientRect().left - room().left;
    return Math.max(0, Math.min(1, x / Math.max(1, width - room().left - room().right))) * model.axisS;
  };
  const layout = (): void => {
    setAttr(line, "viewBox", `0 0 ${Math.max(1, width)} 56`);
    const marks = timeMarks(model.axisS);
    const shown = model.axisS <= 0 ? { long: [], short: [], digits: 1 } : marks;
    setAttr(
      ticks,
      "d",
      [...shown.long.map((t) => `M${toX(t).toFixed(1)} ${AXIS_Y}v8`), ...shown.short.map((t) => `M${toX(t).toFixed(1)} ${AXIS_Y}v4`)].join(""),
    );
    setAttr(ahead, "d", `M${room().left} ${AXIS_Y}H${width - room().right}`);
    keyed(
      numbers,
      shown.long,
      (t) => t.toFixed(4),
      () => s("text", { "text-anchor": "middle", y: AXIS_Y + 23 }),
      (el2, t, i) => {
        setAttr(el2, "x", toX(t).toFixed(1));
        setText(el2, i === 0 ? "0\u2009s" : fixed(t, shown.digits));
      },
    );
  };
  const place = (): void => {
    const x = toX(now).toFixed(1);
    setAttr(bob, "transform", `translate(${x} ${AXIS_Y})`);
    setAttr(rail, "d", `M${room().left} ${AXIS_Y}H${x}`);
  };
  new ResizeObserver(() => {
    if (line.clientWidth === width) return;
    width = line.clientWidth;
    layout();
    place();
  }).observe(line);

  listenRail(line, {
    open: () => model.reach === "both",
    start: () => line.focus({ preventScroll: true }),
    to: (x, phase) => phase === "move" && hooks.seek(timeAt(x)),
  });
  line.addEventListener("keydown", (e) => {
    if (e.key === " ") hooks.play();
    else if (!hooks.key(e.key, e.shiftKey)) return;
    e.preventDefault();
  });

  return {
    el,
    timeAt,
    update(next) {
      const same = next.axisS === model.axisS;
      model = next;
      setAttr(play, "aria-label", next.playing ? "pause" : "play");
      setAttr(playMark, "d", next.playing ? "M3 1H8V21H3ZM12 1H17V21H12Z" : "M2 1L18 11L2 21Z");
      setAttr(slow, "aria-pressed", String(next.slow));
      setAttr(line, "aria-valuemax", next.endS.toFixed(3));
      const whole = next.reach === "both";
      el.classList.toggle("empty", !whole);
      setAttr(line, "aria-disabled", whole ? null : "true");
      setAttr(line, "tabindex", whole ? 0 : -1);
      play.disabled = next.reach === "none";
      on.disabled = next.reach === "none";
      back.disabled = !whole;
      if (!same) {
        layout();
        place();
      }
    },
    at(timeS) {
      now = timeS;
      place();
      setAttr(line, "aria-valuenow", timeS.toFixed(3));
      setAttr(line, "aria-valuetext", `${timeS.toFixed(3)} seconds of ${model.endS.toFixed(2)}`);
    },
  };
}
