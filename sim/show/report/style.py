"""The style of a page: light and dark, desktop and phone, A4 and Letter."""

STYLE = """
:root { --ink: #1b1d20; --sheet: #ffffff; --faint: #8d949b; --panel: #f3f5f7; --mark: #882255;
  --note: #fff4dc; --shade: rgba(20, 22, 26, 0.45); --pt: 0.82px; color-scheme: light dark; }
@media (prefers-color-scheme: dark) { :root { --ink: #e8eaed; --sheet: #16181b; --faint: #7f868d;
  --panel: #212429; --mark: #e29bc0; --note: #3a2f14; --shade: rgba(240, 244, 250, 0.5); } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 72rem; background: var(--sheet);
  color: var(--ink); font: 1rem/1.5 system-ui, "Segoe UI", Roboto, "DejaVu Sans", sans-serif; }
header p { max-width: 60rem; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0.25rem 0; }
h2 { font-size: 1.2rem; margin: 2rem 0 0.5rem; border-bottom: 1px solid var(--faint); }
h3 { font-size: 1rem; margin: 1rem 0 0.25rem; overflow-wrap: anywhere; }
p, ul { margin: 0.5rem 0; max-width: 60rem; overflow-wrap: break-word; }
ul { padding-left: 1.3rem; }
.first { display: grid; grid-template-columns: minmax(0, 1fr); gap: 1rem 1.5rem;
  align-items: start; }
@media (min-width: 60rem) { .first { grid-template-columns: minmax(0, 5fr) minmax(0, 6fr); } }
.first figure { margin: 0; }
.answer { background: var(--panel); border-left: 0.3rem solid var(--mark); padding: 0.6rem 1rem; }
.answer ul { list-style: none; padding-left: 0; }
.answer .note { margin: 0.1rem 0 0.4rem; }
.answer h3 { margin-top: 0.6rem; }
.answer h3:first-child { margin-top: 0; }
.answer .big { font-size: 1.1rem; font-weight: 700; margin: 0.1rem 0; }
.caution { background: var(--note); padding: 0.6rem 1rem; margin: 0.75rem 0; }
.note { font-size: 0.9rem; opacity: 0.85; }
/* The shadows stay at the edges and the covers move with what is inside: so a shadow is seen
   on the side on which there is more, and on no other. */
.wide { overflow-x: auto; max-width: 100%; background:
  linear-gradient(to right, var(--sheet) 40%, transparent) left / 3rem 100% no-repeat local,
  linear-gradient(to left, var(--sheet) 40%, transparent) right / 3rem 100% no-repeat local,
  linear-gradient(to right, var(--shade), transparent) left / 1.1rem 100% no-repeat scroll,
  linear-gradient(to left, var(--shade), transparent) right / 1.1rem 100% no-repeat scroll; }
table { border-collapse: collapse; font-size: 0.9rem; font-variant-numeric: tabular-nums; }
th, td { padding: 0.25rem 0.5rem; border-bottom: 1px solid var(--faint); text-align: right;
  vertical-align: top; }
th { vertical-align: bottom; }
th.w, td.w { text-align: left; }
td { white-space: nowrap; }
td.w { min-width: 5.5rem; white-space: normal; overflow-wrap: break-word; }
td.w:first-child { min-width: 7.5rem; }
caption { text-align: left; font-weight: 700; padding: 0.3rem 0; }
figure { margin: 1rem 0; container-type: inline-size; }
figure svg { display: block; width: 100%; height: auto; min-width: calc(var(--points) * var(--pt));
  max-width: calc(var(--points) * 1.45px); }
/* no higher than nothing where the figure fits */
.swipe { font-size: clamp(0px, (var(--points) * var(--pt) - 100cqi) * 99, 0.8rem); margin: 0;
  line-height: 1.4; font-weight: 700; color: var(--mark); overflow: hidden; }
figcaption { font-size: 0.9rem; opacity: 0.85; max-width: 60rem; }
.files { columns: 20rem; max-width: none; }
code { font-size: 0.85em; overflow-wrap: anywhere; }
details { margin: 0.75rem 0; }
details summary { cursor: pointer; }
@media screen {
  .wide th:first-child, .wide td:first-child { position: sticky; left: 0;
    background: var(--sheet); }
}
@media screen and (max-width: 40rem) {
  :root { --pt: 1.1px; }
  body { padding: 0.75rem; }
  h1 { font-size: 1.35rem; }
}
@media screen and (max-width: 52rem) {
  table, caption, tbody, tr, td { display: block; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tr { display: grid; gap: 0.2rem 0.8rem;
    grid-template-columns: repeat(auto-fill, minmax(min(9.5rem, 45%), 1fr));
    border: 1px solid var(--faint); margin: 0 0 0.6rem; padding: 0.3rem 0.6rem; }
  .wide td:first-child { position: static; }
  td, td.w, td.w:first-child { border: 0; padding: 0; min-width: 0; text-align: left;
    white-space: normal; line-height: 1.25; overflow-wrap: break-word; }
  td::before { content: attr(data-head); display: block; font-size: 0.75rem; opacity: 0.8; }
  td:first-child { grid-column: 1 / -1; font-weight: 700; }
  td:first-child::before { content: none; }
}
@page { margin: 13mm; }
@media print {
  :root { --ink: #000; --sheet: #fff; --faint: #777; --panel: #f3f3f3; --mark: #882255;
    --note: #fff; color-scheme: light; }
  html { font-size: 9.5pt; }
  body { max-width: none; padding: 0; print-color-adjust: exact; }
  h1 { font-size: 15pt; }
  h2 { font-size: 12pt; margin-top: 1rem; break-after: avoid; }
  h3, caption, summary { break-after: avoid; }
  p, li { orphans: 3; widows: 3; }
  .first { display: block; }
  figure, .first figure { break-inside: avoid; margin: 0.5rem 0; }
  figure { container-type: normal; }
  .swipe { display: none; }
  .wide { background: none; }
  figure svg { min-width: 0; max-width: 140mm; max-height: 215mm; }
  .first figure svg { max-width: 125mm; }
  .wide { overflow: visible; }
  td, td.w, td.w:first-child { white-space: normal; overflow-wrap: break-word; }
  table { font-size: 7.5pt; max-width: 100%; }
  td.w { min-width: 0; }
  td.w:first-child { min-width: 18mm; overflow-wrap: anywhere; }
  th, td { padding: 0.12rem 0.3rem; }
  thead { display: table-header-group; }
  tr, .short, .answer, .caution { break-inside: avoid; }
  .screen { display: none; }
}
@media print { details::details-content { content-visibility: visible; block-size: auto; } }
"""
