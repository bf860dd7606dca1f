/** A panel beside the drawing, with what its content comes from. */
export interface Panel {
  key: string;
  causes: readonly unknown[];
  /** it shows what is two frames old: it may not wait */
  overdue: boolean;
  write(): void;
}

/**
 * Writes panels whose causes changed. While something is dragged only one in a frame, the one that was written longest ago,
 * besides those that may not wait. Returns whether one still waits.
 */
export function createTurns(): (panels: readonly Panel[], live: boolean) => boolean {
  const written = new Map<string, { causes: readonly unknown[]; at: number }>();
  let frame = 0;
  const isSame = (p: Panel): boolean => {
    const old = written.get(p.key)?.causes;
    return old?.length === p.causes.length && old.every((c, i) => Object.is(c, p.causes[i]));
  };
  const since = (p: Panel): number => written.get(p.key)?.at ?? Number.NEGATIVE_INFINITY;
  return (panels, live) => {
    frame++;
    const changed = panels.filter((p) => !isSame(p)).sort((p, q) => since(p) - since(q));
    const now = live ? changed.filter((p, i) => i === 0 || p.overdue) : changed;
    for (const p of now) {
      p.write();
      written.set(p.key, { causes: p.causes, at: frame });
    }
    return now.length < changed.length;
  };
}
