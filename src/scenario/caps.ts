import { TABLE_ROOM } from "../core/design/tried.ts";

/**
 * How much is taken in from outside, from files, links and command lines. What is beyond a bound is refused in a
 * sentence before work is spent on it, so that nothing that is opened can hold the page or the program up.
 */
export const CAPS = {
  /** bytes of a scenario file: the largest that the schema allows (50 outlines of 500 points, all names, notes and tables full) has about 5 million */
  fileBytes: 5_200_000,
  /** bytes that a link may unpack to: two designs of that size with the load */
  unpackedBytes: 10_000_000,
  /** letters of a link: two designs of the largest size have about 1 million, and browsers hold addresses of up to some 2 million */
  linkLetters: 2_000_000,
  /** nested deeper than this is no scenario, whose own depth is 7; keeps the reader's recursion small */
  depth: 100,
  /** a longer name of a field or command is not compared with the known ones (the longest has 27 letters), since that takes length times length */
  wordLetters: 60,
  /** letters of a word or value that a message repeats: enough to find the place, and a line stays a line */
  shownLetters: 60,
  /** letters of a file's name that a message repeats, its end: paths are longer than words */
  shownNameLetters: 200,
  /** letters of a design's name */
  nameLetters: 120,
  /** letters of its line of description */
  descriptionLetters: 500,
  /** letters of the path of a field, the longest of which has some 45 */
  pathLetters: 80,
  /** letters of what is noted beside a value */
  noteLetters: 120,
  /** values whose origin is told: all fields of a car and of both its sides, and a few hundred points of outlines */
  origins: 800,
  /** letters of the name of a part on the shelf */
  partNameLetters: 60,
  /** parts on a builder's own shelf */
  shelfParts: 300,
  /** bench tests, and runs, that a design keeps */
  benchTests: 60,
  runs: 200,
  /** of the table of a bench test, as it was typed or pasted */
  benchRows: TABLE_ROOM.rows,
  benchColumns: TABLE_ROOM.columns,
  cellLetters: TABLE_ROOM.cellLetters,
  /** cells of all tables together, empty rows counted as one */
  benchCells: 8000,
  benchSettings: 12,
  /** other values that a value is correlated with: those of one test */
  together: 3,
  /** problems that are told: who has more mends these first; the others are counted */
  problemsTold: 20,
} as const;
