import { csvText, type Table } from "../view/csv.ts";
import type { ChartModel } from "../view/curves.ts";
import { valueAt } from "../view/curves.ts";
import { download, fileName } from "./files.ts";

const LOOKS = [
  "fill",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "font-family",
  "font-size",
  "font-weight",
  "text-anchor",
  "opacity",
  "paint-order",
  "stroke-linejoin",
];
const PNG_SCALE = 3;

/** A copy of a chart as it stands, with its looks written into it so that it opens anywhere. */
function standalone(svg: SVGSVGElement): SVGSVGElement {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const from = [svg, ...svg.querySelectorAll("*")];
  const to = [copy, ...copy.querySelectorAll("*")];
  from.forEach((el, i) => {
    const style = getComputedStyle(el);
    for (const name of LOOKS) {
      const v = style.getPropertyValue(name);
      if (v) to[i]?.setAttribute(name, v);
    }
    to[i]?.removeAttribute("class");
  });
  copy.setAttribute("width", String(svg.clientWidth));
  copy.setAttribute("height", String(svg.clientHeight));
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  return copy;
}

/** Every place along a chart with the value of each of its curves there, empty where a curve has none. */
function tableOf(m: ChartModel): Table {
  const cols = [...m.series].reverse();
  const xs = [...new Set(cols.flatMap((c) => c.points.map((p) => p[0])))].sort((a, b) => a - b);
  const head = [`${m.xName} (${m.xUnit})`, ...cols.map((c) => `${c.design.toUpperCase()}${c.name ? ` ${c.name}` : ""} (${m.yUnit || "1"})`)];
  return { head, rows: xs.map((x) => [x, ...cols.map((c) => valueAt(c.points, x))]) };
}

export function saveChart(svg: SVGSVGElement, kind: "svg" | "png" | "csv", m: ChartModel): void {
  const name = fileName(m.title);
  if (kind === "csv") saveCsv(name, csvText(tableOf(m)));
  else void savePicture(svg, kind, name);
}

export const saveCsv = (name: string, text: string): void => download(`${name}.csv`, "text/csv", text);

/** A drawn chart as a file of its own. */
export async function savePicture(svg: SVGSVGElement, kind: "svg" | "png", name: string): Promise<void> {
  // read at once: what is drawn only for the file is gone a moment later
  const { clientWidth, clientHeight } = svg;
  const copy = standalone(svg);
  // fetched only by those who take a picture away
  const { FACES_CSS } = await import("../view/faces.ts");
  const style = document.createElementNS("http://www.w3.org/2000/svg", "style");
  style.textContent = FACES_CSS;
  copy.prepend(style);
  const text = new XMLSerializer().serializeToString(copy);
  if (kind === "svg") {
    download(`${name}.svg`, "image/svg+xml", text);
    return;
  }
  const ground = getComputedStyle(document.body).backgroundColor;
  const url = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  const img = new Image();
  img.onload = () => {
    const canvas = document.createElement("canvas");
    canvas.width = clientWidth * PNG_SCALE;
    canvas.height = clientHeight * PNG_SCALE;
    const c = canvas.getContext("2d");
    if (c) {
      c.fillStyle = ground;
      c.fillRect(0, 0, canvas.width, canvas.height);
      c.drawImage(img, 0, 0, canvas.width, canvas.height);
    }
    canvas.toBlob((blob) => {
      if (blob) download(`${name}.png`, "image/png", blob);
      URL.revokeObjectURL(url);
    });
  };
  img.src = url;
}
