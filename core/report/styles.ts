import { Markup } from './markup.ts';

/**
 * Look of the report. Paper first: sizes in points and millimetres, no sheet size (the reader's printer has A4
 * or Letter), figures and rows kept whole. On a screen the same column stands on a desk of grey.
 */
export const STYLES = new Markup(`
:root { --ink: #16202a; --soft: #55606b; --rule: #b9c0c7; --tint: #f1f3f5; }
* { box-sizing: border-box; }
html { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { margin: 0; color: var(--ink); background: #fff; font: 9pt/1.35 "Segoe UI", "Noto Sans", "Liberation Sans", Arial, sans-serif; font-variant-numeric: tabular-nums lining-nums; overflow-wrap: break-word; }
article { max-width: 190mm; margin: 0 auto; counter-reset: part; }
h1, h2, h3, p, ul, dl, dd, figure { margin: 0; padding: 0; }
p + p { margin-top: 1mm; }
h1, h2 { font-family: Charter, "Bitstream Charter", "Noto Serif", "Liberation Serif", Georgia, serif; }
h2, h3, caption { break-after: avoid; }
h3, caption { font-size: 9pt; font-weight: 700; text-align: left; margin: 3mm 0 1mm; }
section { margin-top: 6mm; }
section > h2 { counter-increment: part; font-size: 13pt; line-height: 1.2; border-bottom: 0.6mm solid var(--ink); padding-bottom: 0.8mm; margin-bottom: 2mm; }
section > h2::before { content: counter(part) "  "; color: var(--soft); }
ul { padding-left: 4mm; }
.masthead { display: flex; align-items: flex-end; gap: 5mm; border-bottom: 1mm solid var(--ink); padding-bottom: 1.5mm; }
.masthead h1 { flex: 1; font-size: 22pt; line-height: 1.1; }
.masthead .kind { writing-mode: vertical-rl; transform: rotate(180deg); font-size: 7.5pt; color: var(--soft); border-left: 0.3mm solid var(--rule); padding-left: 1mm; white-space: nowrap; }
.masthead .when { text-align: right; color: var(--soft); white-space: nowrap; }
.identity { margin: 1.5mm 0 3mm; color: var(--soft); }
.identity::first-letter { text-transform: uppercase; }
.result { position: relative; border: 0.3mm solid var(--ink); padding: 3mm 4mm 3mm; margin-top: 5mm; font-size: 10.5pt; }
.result.withheld { border: 0.7mm dashed var(--ink); }
.result.failed { border: 1.1mm double var(--ink); }
.result .verdict { position: absolute; top: -2.4mm; left: 3mm; background: #fff; padding: 0 2mm; font-size: 9.5pt; font-weight: 700; letter-spacing: 0.06em; line-height: 1.2; text-transform: uppercase; }
.result .columns { font-size: 9pt; margin-bottom: 2mm; }
.cautions { break-inside: avoid; margin: 3mm 0; border-left: 2mm solid var(--ink); background: var(--tint); padding: 2mm 4mm; }
.cautions h2 { font-size: 11pt; margin-bottom: 1mm; }
.cautions ul { columns: 2; column-gap: 8mm; }
.cautions li { break-inside: avoid; }
.cautions li:first-child { font-weight: 700; }
.columns { display: grid; grid-template-columns: 1fr 1fr; gap: 0 8mm; }
table { width: 100%; border-collapse: collapse; margin-bottom: 2mm; font-size: 8.5pt; }
thead { display: table-header-group; }
table.together, tr { break-inside: avoid; }
tbody tr:first-child { break-before: avoid; }
th { text-align: left; font-weight: 600; color: var(--soft); border-bottom: 0.3mm solid var(--ink); vertical-align: bottom; }
td { border-bottom: 0.15mm solid var(--rule); vertical-align: top; }
th, td { padding: 0.7mm 2.5mm 0.7mm 0; }
th:last-child, td:last-child { padding-right: 0; }
.number { text-align: right; }
td.number, .whole { white-space: nowrap; }
.breakable, code, h1 { overflow-wrap: anywhere; }
td p + p { margin-top: 0.5mm; }
.record { break-inside: avoid; }
.record dl div { display: grid; grid-template-columns: 30% 1fr; gap: 3mm; border-bottom: 0.15mm solid var(--rule); padding: 0.6mm 0; font-size: 8.5pt; }
.columns .record dl div { grid-template-columns: 44% 1fr; }
dt { color: var(--soft); }
code { font: 7pt "Liberation Mono", Consolas, monospace; }
.empty, p.note { color: var(--soft); margin: 2mm 0; font-size: 8.5pt; }
.ruling, .by-hand { margin: 2mm 0; }
figure { break-inside: avoid; margin: 2mm 0 3mm; }
figure > svg { display: block; width: 100%; height: auto; }
figcaption { font-size: 8pt; color: var(--soft); margin-top: 0.5mm; }
figcaption b { color: var(--ink); }
svg { font: 10.5px "Segoe UI", "Noto Sans", "Liberation Sans", Arial, sans-serif; fill: var(--ink); }
svg.symbol { width: 2.4mm; height: 2.4mm; vertical-align: -0.2mm; }
svg.dash { width: 8mm; height: 2mm; stroke: #0072b2; stroke-width: 2; vertical-align: middle; }
.axis text { fill: var(--soft); }
.axis .title { fill: var(--ink); }
.grid { stroke: #dde1e5; stroke-width: 0.6; }
.rule { stroke: var(--ink); stroke-width: 0.8; }
.band { fill: #e3e7eb; }
.strike { stroke: var(--ink); stroke-width: 1; }
svg .note { font-size: 9.5px; }
.trace { fill: none; stroke-width: 1; stroke-linejoin: round; }
.pick { stroke: var(--ink); stroke-width: 0.6; stroke-dasharray: 2 2; }
.pick-number { font-weight: 700; }
.usual { fill: #eceff1; stroke: #8a939c; stroke-width: 0.8; }
.region { fill: #0072b2; fill-opacity: 0.1; stroke: #0072b2; stroke-width: 1.6; }
.median line { stroke: var(--ink); stroke-width: 1.2; }
.required { stroke: #d55e00; stroke-width: 1.6; }
.threshold { stroke: #d55e00; stroke-width: 1.4; stroke-dasharray: 5 3; }
.capacity path { fill: none; stroke: #0072b2; stroke-width: 1.6; }
.capacity .bar { stroke: #0072b2; stroke-width: 5; }
.capacity .exclusion { fill: var(--ink); stroke: none; }
.signatures { break-inside: avoid; break-before: avoid; display: grid; grid-template-columns: repeat(3, 1fr); gap: 8mm; margin-top: 6mm; }
.signatures .line { border-top: 0.3mm solid var(--ink); margin-top: 12mm; padding-top: 0.5mm; font-size: 7.5pt; color: var(--soft); }
@media screen {
  body { background: #d8dce0; }
  article { background: #fff; padding: 12mm; max-width: 214mm; margin: 8mm auto; }
}
@media screen and (max-width: 160mm) {
  article { padding: 4mm; margin: 0; }
  .columns, .signatures { grid-template-columns: 1fr; }
  .cautions ul { columns: 1; }
  article, figure { overflow-x: auto; }
  figure > svg { min-width: 150mm; }
}
@page { margin: 19mm 14mm 17mm; }
@media print { article + article { break-before: page; } }
`);
