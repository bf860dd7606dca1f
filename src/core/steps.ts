/** Long work as a generator: it yields how far it is and gives its result, so that whoever runs it may tell, put off or leave off. */

/** The result of the work, done at one go. @param tell hears of each step */
export function toTheEnd<S, R>(work: Generator<S, R>, tell?: (step: S) => void): R {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
    tell?.(step.value);
  }
}

/** The same work with its steps told otherwise. @param as a step, and which one it is, from 1 */
export function* toldAs<S, T, R>(work: Generator<S, R>, as: (step: S, count: number) => T): Generator<T, R> {
  for (let count = 1; ; count++) {
    const step = work.next();
    if (step.done) return step.value;
    yield as(step.value, count);
  }
}
