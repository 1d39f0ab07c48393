/** The page's style: readable at phone width, in light and dark, and on paper. */
export const reportStyle = `
:root { color-scheme: light dark; --ink: #1c2430; --page: #fbfaf7; --rule: #d5d1c6; --quiet: #5c6470; --note: #f1ecdd; --link: #0b5a77; }
@media (prefers-color-scheme: dark) { :root { --ink: #e4e2dc; --page: #16191d; --rule: #3a4048; --quiet: #a2a9b3; --note: #262218; --link: #7cc4de; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--page); color: var(--ink); font: 16px/1.55 Georgia, "Times New Roman", serif; }
main { max-width: 54rem; margin: 0 auto; padding: 1.5rem 1rem 4rem; }
h1, h2, h3, th, nav, figcaption, .unit { font-family: system-ui, "Segoe UI", sans-serif; }
p, li { overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.25; margin: 0.5rem 0 1rem; }
h2 { font-size: 1.2rem; margin: 2.5rem 0 0.75rem; padding-top: 0.75rem; border-top: 2px solid var(--ink); }
a { color: var(--link); }
p.statement { font-weight: bold; margin: 0 0 0.5rem; }
.caution { background: var(--note); border-left: 4px solid var(--ink); padding: 0.75rem 1rem; margin: 1rem 0; }
.headline { font-size: 1.1rem; }
nav { font-size: 0.9rem; margin: 1rem 0; }
nav a, .takes a { display: inline-block; margin-right: 1rem; min-height: 24px; line-height: 24px; }
.scroll { overflow-x: auto; margin: 1rem 0; position: relative; }
.together { white-space: nowrap; }
table { border-collapse: collapse; font: 0.9rem/1.5 system-ui, "Segoe UI", sans-serif; font-variant-numeric: tabular-nums lining-nums; min-width: min(100%, 27rem); }
caption { text-align: left; font-weight: bold; padding: 0.25rem 0; font-family: system-ui, sans-serif; }
th, td { text-align: left; padding: 0.3rem 0.9rem 0.3rem 0; border-bottom: 1px solid var(--rule); vertical-align: top; }
thead th { border-bottom: 2px solid var(--ink); }
sup { line-height: 0; }
.table p { font-size: 0.85rem; margin: 0.3rem 0; }
figure { margin: 1.5rem 0; }
figure img { display: block; width: 100%; height: auto; }
figcaption { font-size: 0.85rem; color: var(--quiet); margin-top: 0.4rem; }
.bench { border: 1px solid var(--rule); padding: 0.5rem 1rem; margin: 1rem 0; }
.bench-controls input[type="range"] { width: min(100%, 26rem); display: block; margin: 0.4rem 0; }
.bench-controls output { font-weight: bold; font-size: 1.2rem; margin-right: 0.5rem; }
.bench-controls label { font-family: system-ui, sans-serif; }
.bench button, .bench input[type="text"] { font: inherit; padding: 0.2rem 0.5rem; }
.bench fieldset { min-width: 0; margin: 0.75rem 0; border: 1px solid var(--rule); }
.bench legend { font: bold 0.95rem system-ui, "Segoe UI", sans-serif; }
.bench select { font: inherit; max-width: 100%; min-height: 2rem; display: block; margin: 0.3rem 0; }
.bench-figures { display: grid; grid-template-columns: minmax(14rem, 1fr) minmax(14rem, 1fr); gap: 1rem; }
.bench-tables tbody th[scope="rowgroup"] { padding-top: 0.9rem; }
.bench-tables tbody th[scope="row"] { font-weight: normal; }
.bench-readings { width: 100%; height: auto; margin-top: 0.5rem; }
[hidden] { display: none; }
.bench-curve { align-self: start; }
.standing { font-style: italic; }
.corrected:empty { display: none; }
.bench-controls input[type="range"], .bench button, .bench input[type="text"] { min-height: 2rem; }
.exploratory .bench-tables td { color: var(--quiet); font-style: italic; }
@media (max-width: 40rem) { .bench-figures { grid-template-columns: 1fr; } table { font-size: 0.8rem; } th, td { padding-right: 0.6rem; } }
@media print { .bench-controls { display: none; } }
@page { margin: 16mm; }
@media print { body { background: #fff; color: #000; font-size: 10.5pt; } main { max-width: none; padding: 0; } nav { display: none; } h2, caption { break-after: avoid; } figure, tr, .caution, .bench-figures { break-inside: avoid; } figure { max-width: 100mm !important; } .scroll { overflow: visible; } }
`.trim();
