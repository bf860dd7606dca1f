/** Faults that tests plant, of the page's surroundings and of what is done with it, and what the builder then sees; the table in DEVELOPERS.md is made of them. */
export const FAULTS = {
  "a worker dies, or never answers": "after 20 s without a sign of life: 'The work beside the page stopped …' where the answer should be, with 'try again'",
  "a worker's script is missing": "the same at once, with its reason",
  "a worker cannot be started": "the same at once, with its reason",
  "the browser has no workers": "the same at once; drawing and numbers of the axle work",
  "the worker of the single changes dies": "the same in their list; the map works",
  "how a car stands takes long to find": "'Still searching …' under the last drawing, with 'stop searching'; the hand goes on",
  "no network when a view is first opened (js)": "'This page could not be fetched …' in the view's place, with 'try again'",
  "no network when a view is first opened (css)": "the same; once fetched, the view has its looks",
  "no network once the page stands": "every view works",
  "no network at the start": "a page that was visited before starts, and every view works",
  "a new version of the page has come": "it is offered; the one at work stays until 'load it' is pressed, and the work goes along",
  "the graphics are lost": "drawn on a plain canvas meanwhile, and by WebGL when it comes back",
  "the browser has no canvas": "words in place of the drawing; numbers and views work",
  "a link is received while work lies here": "the shared design is work of its own; 'go back to …' leads to the work that lies here",
  "a link is damaged": "its sentence; the work at hand stays",
  "an edit may not stand": "its sentence, on every view; nothing changes",
  "a value of B's does not fit into A alone": "it is taken with what it hangs together with, and comes back after a reload",
  "the page is closed or loaded again": "both designs, the view and what can be undone and done again come back",
  "kept work cannot be read": "it stays as it lies, is told, and is offered as a file",
  "a kept view is broken": "the designs open, looked at in the usual way",
  "the browser's store is full or shut": "'not kept: …' for as long as it lasts, on the phone too",
  "a tab is duplicated": "each goes on with work of its own",
  "another tab went on with this work in its sleep": "both are kept, and a notice says so",
  "kept work is removed by mistake": "'put it back' in the notice",
  "a folder is dropped": "its sentence; the work at hand stays",
  "a dropped file has vanished": "its sentence; the work at hand stays",
  "two files are dropped at once": "its sentence; the work at hand stays",
  "a picture is dropped": "its sentence; the work at hand stays",
  "an error that nobody foresaw is thrown": "one notice that says what happened; the work stays",
  "a promise that nobody foresaw is rejected": "one notice that says what happened; the work stays",
} as const;

export type Fault = keyof typeof FAULTS;

/** The name of the test that plants a fault. */
export const named = (fault: Fault): string => `${fault} → ${FAULTS[fault]}`;

/** The faults as rows of a Markdown table, columns of one width as the formatter leaves them. */
export function faultTable(): string {
  const rows: [string, string][] = [["fault", "what the builder sees"], ...(Object.entries(FAULTS) as [string, string][])];
  const wide = [0, 1].map((c) => Math.max(...rows.map((r) => (r[c] as string).length)));
  const line = (cells: readonly string[]): string => `| ${cells.map((text, c) => text.padEnd(wide[c] as number)).join(" | ")} |`;
  const [head, ...body] = rows.map(line);
  return [head, `| ${wide.map((n) => "-".repeat(n)).join(" | ")} |`, ...body].join("\n");
}
