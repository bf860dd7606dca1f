import text400 from "@fontsource/arimo/files/arimo-latin-400-normal.woff2?inline";
import text700 from "@fontsource/arimo/files/arimo-latin-700-normal.woff2?inline";
import draw400 from "@fontsource/roboto-condensed/files/roboto-condensed-latin-400-normal.woff2?inline";
import draw700 from "@fontsource/roboto-condensed/files/roboto-condensed-latin-700-normal.woff2?inline";

const face = (family: string, weight: 400 | 700, uri: string): string =>
  `@font-face{font-family:"${family}";font-weight:${weight};src:url(${uri}) format("woff2")}`;

/** Both faces of the page, for what is saved on its own. */
export const FACES_CSS = [
  face("Arimo", 400, text400),
  face("Arimo", 700, text700),
  face("Roboto Condensed", 400, draw400),
  face("Roboto Condensed", 700, draw700),
].join("\n");

/** A report's document with its faces inside, so that it prints the same on every machine. */
export const withFaces = (html: string): string => html.replace("<style>", `<style>${FACES_CSS}\n`);
