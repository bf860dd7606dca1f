/** Asks one question at a time; of those that come meanwhile only the newest is asked, the ones before it are dropped. */
export interface Latest<Q> {
  ask(question: Q): void;
}

/** @param run fails with what goes to `onError`; the next question is asked all the same */
export function createLatest<Q, A>(run: (question: Q) => Promise<A>, onAnswer: (question: Q, answer: A) => void, onError: (e: unknown) => void): Latest<Q> {
  let busy = false;
  let waiting: { question: Q } | null = null;
  const next = async (question: Q): Promise<void> => {
    busy = true;
    try {
      onAnswer(question, await run(question));
    } catch (e) {
      onError(e);
    }
    busy = false;
    const then = waiting;
    waiting = null;
    if (then) void next(then.question);
  };
  return {
    ask(question) {
      if (busy) waiting = { question };
      else void next(question);
    },
  };
}
