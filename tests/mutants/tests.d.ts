/** The tests to judge by, each file as a function; made by `instrument.ts`. */
declare module "virtual:tests" {
  export const files: { name: string; run: () => void }[];
}
