import { Refusal } from "./refusal.ts";
import { why } from "./why.ts";

/** What is needed of a process's output. */
export interface Sink {
  write(text: string, done: (fault?: Error | null) => void): unknown;
  on(event: "error", heard: (fault: Error) => void): unknown;
  off(event: "error", heard: (fault: Error) => void): unknown;
}

/** Writes a text and waits until it is out. Throws a refusal when the output is full or its reader has closed it. */
export async function send(sink: Sink, text: string): Promise<void> {
  // a stream without a listener would end the program with a stack
  const heard = (): void => {};
  sink.on("error", heard);
  const fault = await new Promise<Error | null | undefined>((done) => sink.write(text, done));
  if (fault) throw new Refusal(`The answer is not written whole: the output cannot be written, ${why(fault)}.`);
  sink.off("error", heard);
}
