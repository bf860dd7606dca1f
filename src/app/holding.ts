/** Says that a piece of work is in this tab's hands, for as long as the tab lives. */
export interface Holding {
  /** true when no other living tab has it; `waitMs`: how long a tab that is just going may still take */
  take(id: string, waitMs?: number): Promise<boolean>;
  leave(id: string): void;
}

const LOCK = "wheelstay.work.";
/** how long other tabs have to answer where the browser has no locks, ms */
const ANSWER_MS = 150;

/**
 * Web Locks where the browser has them (a page over https or on this machine): they are free the moment a tab is gone,
 * sleep with it, and know no clock. Elsewhere the other tabs are asked; one that sleeps does not answer, and finds out when it saves.
 */
export const createHolding = (): Holding => (navigator.locks ? byLocks(navigator.locks) : byAsking());

function byLocks(locks: LockManager): Holding {
  const held = new Map<string, () => void>();
  return {
    take(id, waitMs = 0) {
      if (held.has(id)) return Promise.resolve(true);
      return new Promise((answer) => {
        const patience = new AbortController();
        const options: LockOptions = waitMs > 0 ? { signal: patience.signal } : { ifAvailable: true };
        if (waitMs > 0) setTimeout(() => patience.abort(), waitMs);
        locks
          .request(LOCK + id, options, (lock) => {
            answer(lock !== null);
            if (!lock) return undefined;
            return new Promise<void>((leave) => held.set(id, leave));
          })
          .catch(() => answer(false));
      });
    },
    leave(id) {
      held.get(id)?.();
      held.delete(id);
    },
  };
}

function byAsking(): Holding {
  const held = new Set<string>();
  const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("wheelstay.work");
  channel?.addEventListener("message", (e: MessageEvent<{ ask?: string }>) => {
    if (typeof e.data?.ask === "string" && held.has(e.data.ask)) channel.postMessage({ mine: e.data.ask });
  });
  return {
    take(id) {
      if (held.has(id)) return Promise.resolve(true);
      if (!channel) {
        held.add(id);
        return Promise.resolve(true);
      }
      return new Promise((answer) => {
        const done = (free: boolean): void => {
          channel.removeEventListener("message", hear);
          if (free) held.add(id);
          answer(free);
        };
        const hear = (e: MessageEvent<{ mine?: string }>): void => {
          if (e.data?.mine === id) done(false);
        };
        channel.addEventListener("message", hear);
        channel.postMessage({ ask: id });
        setTimeout(() => done(true), ANSWER_MS);
      });
    },
    leave: (id) => void held.delete(id),
  };
}
