/** The light colours of the page for paper: the same values as in ui/css/tokens.css, which a file on its own cannot ask. */
export const PAPER_TONES: Readonly<Record<string, string>> = {
  paper: "#edf2f0",
  sheet: "#f9fbfa",
  lift: "#ffffff",
  rule: "#cad5d3",
  edge: "#6b7f83",
  dot: "#b3c4c1",
  ink: "#12262b",
  "ink-2": "#3b5157",
  "ink-3": "#52676c",
  "on-ink": "#f9fbfa",
  arm: "#2b4a53",
  "arm-hi": "#58777f",
  hub: "#47646b",
  chassis: "#d0dbda",
  "body-line": "#74898d",
  "body-wash": "#dfe8e6",
  tyre: "#b9c7c7",
  "tyre-line": "#6d8286",
  spring: "#2b4a53",
  road: "#2f4247",
  hole: "#f9fbfa",
  plumb: "#12262b",
  load: "#a83204",
  "load-wash": "#f3d9cb",
  react: "#1160a2",
  "react-wash": "#dbe9f5",
  inside: "#00553f",
  "inside-wash": "#cfe6dd",
  "design-a": "#12262b",
  "design-b": "#7a5400",
  "design-b-line": "#a87400",
  "design-b-wash": "#f0e4c8",
  "u-0": "#cfdbd9",
  "u-0-line": "#62767a",
  "u-1": "#e3bd5c",
  "u-1-line": "#6d4d00",
  "u-2": "#c8672a",
  "u-2-line": "#4d1f00",
  "u-3": "#6e1023",
  "u-3-line": "#ffe9df",
  "u-3-text": "#8a1226",
  focus: "#1160a2",
};

/** Colour of a tone; an unknown one is a fault of the program. */
export function toneOf(name: string): string {
  const found = PAPER_TONES[name];
  if (!found) throw new RangeError(`no tone named ${name}`);
  return found;
}
