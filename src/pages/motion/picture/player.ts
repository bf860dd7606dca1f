/** The playhead of a recorded run: plain data, moved by the time that passes. */
export interface Player {
  timeS: number;
  endS: number;
  playing: boolean;
  slow: boolean;
  /** put here to show the moment that matters: play begins at the start from here */
  parked: boolean;
}

export const SLOW = 0.1;
/** a page that slept does not have to catch up, ms */
export const LONGEST_MS = 100;

export const newPlayer = (endS: number, slow: boolean): Player => ({ timeS: 0, endS, playing: false, slow, parked: false });

/** Moved on by time that passed on the wall, ms; stands still at the end. The same object when nothing moves. */
export function passed(p: Player, ms: number): Player {
  if (!p.playing) return p;
  const timeS = p.timeS + (Math.min(LONGEST_MS, Math.max(0, ms)) / 1000) * (p.slow ? SLOW : 1);
  return timeS >= p.endS ? { ...p, timeS: p.endS, playing: false } : { ...p, timeS };
}

/** Plays on; from the start when it stands at the end or was parked. */
export const played = (p: Player): Player => ({ ...p, playing: p.endS > 0, timeS: p.parked || p.timeS >= p.endS ? 0 : p.timeS, parked: false });
export const paused = (p: Player): Player => ({ ...p, playing: false });
export const sought = (p: Player, timeS: number): Player => ({ ...p, playing: false, parked: false, timeS: Math.max(0, Math.min(p.endS, timeS)) });
export const parkedAt = (p: Player, timeS: number): Player => ({ ...sought(p, timeS), parked: true });

/** One recorded sample on or back, from the sample at or before the playhead. */
export function stepped(p: Player, samples: number, samplesPerSecond: number): Player {
  const at = Math.floor(p.timeS * samplesPerSecond + 1e-6);
  return sought(p, (at + samples) / samplesPerSecond);
}

/** Where a key takes the playhead of the slider; null: not a key of the slider. */
export function keyedTo(p: Player, key: string, shift: boolean, samplesPerSecond: number): Player | null {
  const by = shift ? 10 : 1;
  switch (key) {
    case "ArrowRight":
    case "ArrowUp":
      return stepped(p, by, samplesPerSecond);
    case "ArrowLeft":
    case "ArrowDown":
      return stepped(p, -by, samplesPerSecond);
    case "PageUp":
      return sought(p, p.timeS + 0.1);
    case "PageDown":
      return sought(p, p.timeS - 0.1);
    case "Home":
      return sought(p, 0);
    case "End":
      return sought(p, p.endS);
    default:
      return null;
  }
}
