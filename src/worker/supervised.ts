import * as Comlink from "comlink";

/** Why the work beside the page gives no answer, in a sentence, and the way to ask again. */
export interface WorkFault {
  words: string;
  again(): void;
}

/** A worker that says that it lives. */
export interface Alive {
  alive(): boolean;
}

interface Question<Api, T> {
  /** `waits` tells whether the question still waits for its answer: a later one may have displaced it, and what tells how far it is may come behind the answer */
  ask(remote: Comlink.Remote<Api>, job: number, waits: () => boolean): Promise<T>;
  answered(answer: T): void;
}

/** What pages see of a client, whatever it is asked: whether its worker still works. */
export interface Watched {
  /** Tells the newest watcher of every fault, null when there is none; at once of how it stands now. */
  watch(watcher: (fault: WorkFault | null) => void): void;
}

export interface Supervised<Api> extends Watched {
  /** Asks in a lane. A newer question displaces the older one there, which is not asked again after a fault. */
  ask<T>(lane: string, question: Question<Api, T>): void;
  /** Nobody waits for this lane any more; `tell` lets the worker know, if there is one. */
  drop(lane: string, tell?: (remote: Comlink.Remote<Api>) => Promise<unknown>): void;
  /** Ends what is at work, whatever it is, and all that waits; the next question starts a worker anew. */
  halt(): void;
}

export interface Supervision {
  /** One question of a lane at a time, the newest that waits comes next after a rest of so many ms, and every answer counts. Without it a newer question is asked at once, and only its answer counts. */
  restMs?: number;
}

/** how often a worker that owes an answer is asked whether it lives, ms */
const BEAT_MS = 2000;
/** beats without a word until that is told; a long solve on a slow machine answers between two of its steps */
const SILENT_BEATS = 10;

interface Open {
  job: number;
  question: Question<unknown, unknown>;
}

/** "stopped": there is no worker; "silent": it may come back; "failed": it works, but not on the question of this lane */
type Fault = { kind: "stopped" | "silent" } | { kind: "failed"; lane: string };

/**
 * A worker that is watched: it is started when it is first asked, and when it cannot start, breaks off, throws or is silent for long, that is told
 * together with a way to ask again what is still wanted.
 */
export function supervise<Api extends Alive>(start: () => Worker, { restMs }: Supervision = {}): Supervised<Api> {
  const open = new Map<string, Open>();
  const resting = new Set<string>();
  let life: { worker: Worker; remote: Comlink.Remote<Api> } | null = null;
  let fault: Fault | null = null;
  let shown: WorkFault | null = null;
  let watcher: (fault: WorkFault | null) => void = () => undefined;
  let count = 0;
  let timer: ReturnType<typeof setInterval> | undefined;
  let silentBeats = 0;
  let beatAnswered = true;

  const tell = (next: Fault | null, why = ""): void => {
    if (next === null && fault === null) return;
    fault = next;
    shown = next && { words: `The work beside the page stopped: ${why}.`, again };
    watcher(shown);
  };
  const end = (): void => {
    life?.worker.terminate();
    life = null;
    resting.clear();
  };
  const stopped = (why: string): void => {
    end();
    tell({ kind: "stopped" }, why);
  };
  const again = (): void => {
    end();
    tell(null);
    for (const [lane, o] of open) send(lane, o);
  };
  const connect = (): typeof life => {
    if (life) return life;
    try {
      const worker = start();
      life = { worker, remote: Comlink.wrap<Api>(worker) };
      silentBeats = 0;
      beatAnswered = true;
      const mine = life;
      const broke = (why: string) => (e: Event) => {
        e.preventDefault();
        if (mine === life) stopped(why);
      };
      worker.addEventListener("error", broke("its program could not be loaded, or broke off"));
      worker.addEventListener("messageerror", broke("its answer could not be read"));
    } catch (e) {
      stopped(typeof Worker === "undefined" ? "this browser lets nothing work beside a page (no Web Worker)" : `it could not be started (${wordsOf(e)})`);
    }
    return life;
  };
  const beat = (): void => {
    if (open.size === 0 || !life) {
      clearInterval(timer);
      timer = undefined;
      return;
    }
    if (silentBeats >= SILENT_BEATS && fault === null) tell({ kind: "silent" }, `no sign of life for ${(SILENT_BEATS * BEAT_MS) / 1000} s`);
    silentBeats++;
    if (!beatAnswered) return;
    const mine = life;
    beatAnswered = false;
    void (life.remote as unknown as Comlink.Remote<Alive>).alive().then(() => {
      if (mine !== life) return;
      beatAnswered = true;
      lives();
    });
  };
  const lives = (): void => {
    silentBeats = 0;
    if (fault?.kind === "silent") tell(null);
  };
  const clear = (lane: string): void => {
    if (fault?.kind === "failed" && fault.lane === lane) tell(null);
  };
  const send = (lane: string, o: Open): void => {
    const mine = connect();
    if (!mine) return;
    timer ??= setInterval(beat, BEAT_MS);
    if (restMs !== undefined) resting.add(lane);
    const next = (): void => {
      if (mine !== life || restMs === undefined) return;
      resting.delete(lane);
      const waits = open.get(lane);
      if (waits && waits !== o) send(lane, waits);
    };
    o.question
      .ask(mine.remote, o.job, () => open.get(lane) === o)
      .then(
        (answer) => {
          if (mine !== life) return;
          lives();
          const last = open.get(lane) === o;
          if (last) {
            open.delete(lane);
            clear(lane);
          }
          setTimeout(next, restMs);
          if (last || restMs !== undefined) o.question.answered(answer);
        },
        (e: unknown) => {
          if (mine !== life) return;
          lives();
          if (open.get(lane) === o) tell({ kind: "failed", lane }, `it ended with a fault (${wordsOf(e)})`);
          setTimeout(next, restMs);
        },
      );
  };

  return {
    watch(next) {
      watcher = next;
      watcher(shown);
    },
    ask(lane, question) {
      const o: Open = { job: ++count, question: question as Question<unknown, unknown> };
      open.set(lane, o);
      // a worker that is gone is started again by hand: else each move of a drag would try
      if (fault?.kind === "stopped") return;
      clear(lane);
      if (!resting.has(lane)) send(lane, o);
    },
    halt() {
      // a worker that owes nothing may be kept
      if (open.size === 0) return;
      open.clear();
      end();
      tell(null);
    },
    drop(lane, letKnow) {
      open.delete(lane);
      clear(lane);
      // whoever comes back tries anew
      if (open.size === 0 && fault?.kind === "stopped") tell(null);
      if (life && letKnow) void letKnow(life.remote).catch(() => undefined);
    },
  };
}

const wordsOf = (e: unknown): string => (e instanceof Error ? e.message : String(e));
