import { PAPER_TONES } from "./tones.ts";

const tone = (name: string): string => PAPER_TONES[name] as string;

const TEXT = `Arimo,"Liberation Sans",Arial,system-ui,sans-serif`;
const DRAW = `"Roboto Condensed","Liberation Sans Narrow","Arial Narrow",system-ui,sans-serif`;

/** Margins that A4 and Letter share; the size itself is the printer's. */
export const PAGE_CSS = `@page{margin:13mm 13mm 15mm}
@page{@bottom-right{content:counter(page) " / " counter(pages);font:9pt ${TEXT};color:${tone("ink-3")}}}`;

/** The report's look, for a file of its own and for the page's shadow root alike. */
export const REPORT_CSS = `.report{max-width:712px;margin:0 auto;padding:24px 16px 48px;background:${tone("sheet")};color:${tone("ink")};font:15px/1.4 ${TEXT};-webkit-print-color-adjust:exact;print-color-adjust:exact;box-sizing:border-box}
.report *{box-sizing:border-box}
.report h1{font-size:28px;line-height:1.1;margin:0 0 4px}
.report h2{font-size:17px;line-height:1.2;margin:32px 0 8px;padding-top:10px;border-top:1.5px solid ${tone("ink")}}
.report h3{font-size:15px;margin:16px 0 4px}
.report p{margin:4px 0 8px;overflow-wrap:anywhere}
.report ul{margin:4px 0 8px;padding-left:18px}
.report li{margin:2px 0}
.report .lead{color:${tone("ink-2")}}
.report .note,.report .small{font-size:13px;color:${tone("ink-2")}}
.report .b{color:${tone("design-b")}}
.report .facts{display:grid;grid-template-columns:repeat(4,1fr);gap:0 16px;margin:12px 0}
.report .fact{border-top:1px solid ${tone("rule")};padding-top:6px}
.report .fact p{margin:0;font-size:13px}
.report .fact .value{font:700 28px/1.1 ${DRAW};font-variant-numeric:tabular-nums lining-nums}
.report .fact .gives{color:${tone("u-3-text")}}
.report figure{margin:8px 0}
.report figcaption{font-size:13px;color:${tone("ink-2")};margin-top:4px}
.report svg{display:block;width:100%;height:auto;font-family:${DRAW};font-variant-numeric:tabular-nums lining-nums}
.report svg .halo{paint-order:stroke;stroke:${tone("paper")};stroke-width:4px;stroke-linejoin:round}
.report svg .halo-sheet{paint-order:stroke;stroke:${tone("sheet")};stroke-width:4px;stroke-linejoin:round}
.report .charts{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:12px 24px}
.report .charts figure{margin:0}
.report table{border-collapse:collapse;width:100%;margin:4px 0 12px;font-size:13px;line-height:1.3}
.report caption{text-align:left;font-weight:700;padding:4px 0}
.report th,.report td{text-align:left;vertical-align:top;padding:3px 12px 3px 0;border-bottom:1px solid ${tone("rule")};font-weight:400}
.report th:last-child,.report td:last-child{padding-right:0}
.report thead th,.report thead td{color:${tone("ink-3")};font-size:12px;vertical-align:bottom;border-bottom:1px solid ${tone("edge")}}
.report .n{text-align:right;font-family:${DRAW};font-variant-numeric:tabular-nums lining-nums;white-space:nowrap}
.report thead .n{white-space:normal}
.report td.n strong,.report .strong{font-weight:700}
.report .over{color:${tone("u-3-text")};font-weight:700}
.report svg.used{width:104px;height:14px;margin-top:2px}
.report .loose td,.report .loose tbody th{overflow-wrap:anywhere}
.report .term{color:${tone("ink-3")};font-size:12px}
.report dl{margin:4px 0}
.report .summary .note{margin-top:10px}
.report dt{font-weight:700;margin-top:10px}
.report dd{margin:0 0 4px}
.report .formula{font-family:${DRAW}}
@media (max-width:640px){.report .facts{grid-template-columns:1fr 1fr;gap:12px 16px}.report .charts{grid-template-columns:minmax(0,1fr)}.report .wide,.report figure{overflow-x:auto}.report svg.axle,.report svg.map{min-width:640px}}
@media print{
.report{max-width:none;padding:0;background:none;font-size:10pt}
.report h1{font-size:20pt}
.report h2{font-size:13pt;margin-top:18pt;break-after:avoid}
.report h3{font-size:10.5pt;break-after:avoid}
.report table,.report figcaption,.report .note,.report .small,.report .fact p{font-size:9pt}
.report thead th,.report .term{font-size:9pt}
.report tbody tr:nth-child(-n+2){break-after:avoid}
.report tbody tr:nth-last-child(2){break-after:avoid}
.report .short{break-inside:avoid}
.report table{line-height:1.22}
.report th,.report td{padding-top:1.2pt;padding-bottom:1.2pt}
.report tr,.report figure,.report li,.report dt,.report dd,.report .fact{break-inside:avoid}
.report dt{break-after:avoid}
.report thead{display:table-header-group}
.report caption{break-after:avoid}
.report p{orphans:3;widows:3}
.report .summary{break-after:page;break-inside:avoid;display:flex;flex-direction:column;max-height:250mm}
.report .summary>*{flex:none}
.report .summary h1{font-size:17pt}
.report .summary .lead{font-size:9.5pt}
.report .summary figure{flex:0 1 100mm;min-height:40mm;display:flex;flex-direction:column}
.report .summary svg.axle{flex:1 1 0;min-height:0}
.report .summary figcaption{flex:none}
.report .summary dt{margin-top:4pt}
.report .summary dl,.report .summary ul,.report .summary li,.report .summary figure{margin-top:1pt;margin-bottom:1pt}
.report .summary .facts{margin:4pt 0}
.report .summary .note{margin-top:6pt}
.report section.fresh{break-before:page}
.report .together,.report .note{break-inside:avoid}
.report .wide{overflow:visible}
}
`;
