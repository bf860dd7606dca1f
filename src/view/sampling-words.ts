/** A sample goes on or was stopped. */
export interface SamplingProgress {
  share: number;
  words: string;
  act: "stop" | "go on";
}

/** How far a sample is, in cars that were tried; null: none goes on or was stopped. */
export function samplingProgress({ kind, worlds, of }: { kind: "none" | "running" | "stopped" | "done"; worlds: number; of: number }): SamplingProgress | null {
  if (kind === "running") return { share: of > 0 ? worlds / of : 0, words: `trying cars: ${worlds} of ${of}`, act: "stop" };
  return kind === "stopped" ? { share: 0, words: `stopped after ${worlds} of ${of} cars`, act: "go on" } : null;
}

/** What a sample is made of: "512 cars tried, …". */
export const triedWords = (worlds: number): string => `${worlds} cars tried, their values drawn within what is known of them`;
