import { PAGE_CSS, REPORT_CSS } from "./css.ts";
import type { ReportData } from "./data.ts";
import { el, say } from "./markup.ts";
import { buildSection, compareSection, curvesSection, groundSection, headSection, leanSection } from "./sections.ts";
import { driveSection } from "./sections-drive.ts";
import { changesSection, limitsSection, mapSection } from "./sections-limits.ts";
import { pushSection } from "./sections-push.ts";
import { sureSection } from "./sure.ts";

/** The report's content as markup, without styles: for the page's own sheet. */
export function reportBody(d: ReportData): string {
  return el(
    "article",
    { class: "report", lang: "en" },
    headSection(d),
    limitsSection(d),
    sureSection(d),
    leanSection(d),
    pushSection(d),
    buildSection(d),
    curvesSection(d),
    mapSection(d),
    changesSection(d),
    compareSection(d),
    driveSection(d),
    groundSection(d),
  );
}

/** Nothing is loaded from anywhere and no code runs. */
const CSP = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:";

/** One self-contained page that opens and prints anywhere. */
export function reportHtml(d: ReportData): string {
  return documentOf(d.request.scenario.name, reportBody(d));
}

/** A document of its own around a report's content. */
export function documentOf(name: string, body: string): string {
  const head = [
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${CSP}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<link rel="icon" href="data:,">',
    say("title", {}, `${name}: Wheelstay report`),
    `<style>${PAGE_CSS}\nhtml{background:#fff}body{margin:0}\n${REPORT_CSS}</style>`,
  ].join("\n");
  return `<!doctype html>\n<html lang="en">\n<head>\n${head}\n</head>\n<body>\n<main>${body}</main>\n</body>\n</html>\n`;
}
