/** Exit codes of the program. */
export const EXIT = { done: 0, badInput: 1, noEquilibrium: 2 } as const;

/** Ends a command with a message on stderr. */
export class Refusal extends Error {
  readonly code: number;
  constructor(message: string, code: number = EXIT.badInput) {
    super(message);
    this.code = code;
  }
}
