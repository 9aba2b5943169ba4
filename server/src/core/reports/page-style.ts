/**
 * The style of every page. Colours are those of the editor where the page stands in one of its panels, else our own, for light and for
 * dark. Contrast of our own: at least 4.5 to 1 for text (Source: WCAG 2.2, success criterion 1.4.3).
 */
export const pageStyle = `:root {
  color-scheme: light dark;
  font-size: var(--vscode-font-size, 93.75%);
  --paper: var(--vscode-editor-background, #fdfdfb);
  --ink: var(--vscode-editor-foreground, #1f2428);
  --faint: var(--vscode-descriptionForeground, #57606a);
  --rule: var(--vscode-panel-border, #d4d8dc);
  --shade: var(--vscode-textCodeBlock-background, #f0f1ef);
  --link: var(--vscode-textLink-foreground, #0a5aa8);
  --focus: var(--vscode-focusBorder, #0a5aa8);
  --error: var(--vscode-editorError-foreground, #b42318);
  --warning: var(--vscode-editorWarning-foreground, #9a6200);
  --info: var(--vscode-editorInfo-foreground, #0a5aa8);
  --mono: var(--vscode-editor-font-family, ui-monospace, "Cascadia Mono", Menlo, Consolas, "DejaVu Sans Mono", monospace);
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: var(--vscode-editor-background, #191b1e);
    --ink: var(--vscode-editor-foreground, #d8dce0);
    --faint: var(--vscode-descriptionForeground, #9aa3ad);
    --rule: var(--vscode-panel-border, #3a3f46);
    --shade: var(--vscode-textCodeBlock-background, #25282d);
    --link: var(--vscode-textLink-foreground, #82b4f5);
    --focus: var(--vscode-focusBorder, #82b4f5);
    --error: var(--vscode-editorError-foreground, #f2887d);
    --warning: var(--vscode-editorWarning-foreground, #e0b04a);
    --info: var(--vscode-editorInfo-foreground, #82b4f5);
  }
}
body.vscode-light, body.vscode-high-contrast-light { color-scheme: light; }
body.vscode-dark, body.vscode-high-contrast { color-scheme: dark; }
body.vscode-high-contrast, body.vscode-high-contrast-light {
  --rule: var(--vscode-contrastBorder, currentColor);
  --faint: var(--ink);
  --shade: var(--paper);
}
*, *::before, *::after { box-sizing: border-box; }
html { background: var(--paper); -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body {
  margin: 0 auto;
  padding: 0 clamp(1rem, 4vw, 2.5rem) 3rem;
  max-width: 68rem;
  background: var(--paper);
  color: var(--ink);
  font: 1rem/1.5 var(--vscode-font-family, system-ui, -apple-system, "Segoe UI", "Helvetica Neue", "Noto Sans", sans-serif);
}
p, li, summary { max-width: 48rem; overflow-wrap: anywhere; }
p { margin: 0.5rem 0; }
h1, h2, h3 { line-height: 1.25; overflow-wrap: anywhere; font-weight: 600; }
h1 { margin: 1.5rem 0 0.75rem; font-size: 1.6rem; letter-spacing: -0.01em; }
h2 { margin: 2.25rem 0 0.75rem; padding-bottom: 0.25rem; border-bottom: 1px solid var(--rule); font-size: 1.15rem; }
h3 { margin: 1.1rem 0 0.25rem; font-size: 1rem; }
code, pre { font-family: var(--mono); font-size: 0.92em; }
pre code { font-size: 1em; }
code { padding: 0.05em 0.3em; border-radius: 3px; background: var(--shade); color: inherit; }
pre code, h3 code { padding: 0; background: none; }
a { color: var(--link); text-underline-offset: 0.15em; text-decoration-thickness: 1px; }
a code { color: inherit; }
button {
  padding: 0;
  border: 0;
  background: none;
  color: var(--link);
  font: inherit;
  text-align: inherit;
  text-decoration: underline 1px;
  text-underline-offset: 0.15em;
  overflow-wrap: anywhere;
  cursor: pointer;
}
a:hover, button:hover { text-decoration-thickness: 2px; }
:focus-visible { outline: 2px solid var(--focus); outline-offset: 2px; }
main:focus { outline: none; }
:target { background: var(--shade); }
.skip { position: absolute; left: 0.5rem; top: -4rem; padding: 0.4rem 0.8rem; background: var(--paper); }
.skip:focus { top: 0.5rem; z-index: 1; }
header {
  display: flex;
  flex-wrap: wrap;
  gap: 0.25rem 1.5rem;
  align-items: baseline;
  justify-content: space-between;
  padding: 0.75rem 0 0.6rem;
  border-bottom: 1px solid var(--rule);
}
header p { margin: 0; font-weight: 600; }
nav ul { display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; margin: 0; padding: 0; list-style: none; }
nav [aria-current] { color: inherit; font-weight: 600; text-decoration: none; border-bottom: 2px solid var(--link); }
.contents ul { display: block; columns: 18rem; max-width: 46rem; margin: 0.4rem 0 0; }
.contents li { break-inside: avoid; padding: 0.1rem 0; }
summary { cursor: pointer; }
.caution { padding: 0.5rem 0.8rem; border: 1px solid var(--rule); border-left: 4px solid var(--warning); }
.findings, .related { margin: 0; padding: 0; list-style: none; }
.finding { max-width: none; margin: 0 0 1.1rem; padding: 0.1rem 0 0.1rem 0.8rem; border-left: 3px solid var(--rule); }
.finding p { margin: 0.2rem 0; }
.finding.error { border-color: var(--error); }
.finding.warning { border-color: var(--warning); }
.finding.info { border-color: var(--info); }
.finding .head { display: flex; flex-wrap: wrap; gap: 0 0.8rem; align-items: baseline; max-width: none; }
.severity { display: inline-flex; gap: 0.35em; align-items: baseline; font-weight: 600; white-space: nowrap; }
.severity svg { width: 0.75em; height: 0.75em; fill: currentColor; fill-rule: evenodd; }
.error > .head svg { color: var(--error); }
.warning > .head svg { color: var(--warning); }
.info > .head svg { color: var(--info); }
.record { font-weight: 600; }
.check, .place, .line, .help, .related, caption, footer { color: var(--faint); }
.check, .place { font-family: var(--mono); font-size: 0.875rem; }
.head .place { margin-left: auto; }
.related { padding-left: 0.9rem; font-size: 0.875rem; }
pre {
  margin: 0.4rem 0;
  padding: 0.35rem 0.6rem;
  background: var(--shade);
  white-space: pre-wrap;
  overflow-wrap: anywhere;
}
.line { user-select: none; }
mark { background: none; color: inherit; font-weight: 700; text-decoration: underline wavy var(--faint) 1px; text-underline-offset: 0.2em; }
.scroll { overflow-x: auto; max-width: 100%; margin: 0.75rem 0; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
caption { padding: 0 0 0.35rem; text-align: left; font-size: 0.875rem; white-space: nowrap; }
th, td { padding: 0.12rem 1.1rem 0.12rem 0; border-bottom: 1px solid var(--rule); vertical-align: baseline; }
thead th { border-bottom-color: var(--faint); font-size: 0.875rem; font-weight: 600; }
tbody th { font-weight: 400; }
.left { text-align: left; }
.right { text-align: right; }
.right, .short { white-space: nowrap; }
.zero { color: var(--faint); }
figure { margin: 0.75rem 0 1.5rem; }
figcaption { padding: 0 0 0.35rem; color: var(--faint); font-size: 0.875rem; }
figure .scroll { margin: 0; }
figure svg { display: block; width: 100%; min-width: 34rem; max-width: 48rem; height: auto; }
figure text { color: var(--faint); fill: currentColor; font: 9px var(--mono); }
figure .value { color: var(--ink); }
figure .alarm { color: var(--error); }
figure .scale { color: var(--faint); }
figure rect { fill: currentColor; }
figure line { stroke: currentColor; }
figure .dashed { stroke-dasharray: 5 3; }
figure .dotted { stroke-dasharray: 1 3; }
footer { margin-top: 3rem; padding-top: 0.6rem; border-top: 1px solid var(--rule); font-size: 0.875rem; }
@media (max-width: 40rem) {
  .head .place { margin-left: 0; }
  th, td { padding-right: 0.75rem; }
}
@media (forced-colors: active) {
  .severity svg { color: CanvasText; forced-color-adjust: none; }
  figure rect, figure line, figure text { color: CanvasText; forced-color-adjust: none; }
  :target { outline: 2px solid Highlight; }
}
@media print {
  :root {
    color-scheme: light;
    font-size: 10pt;
    --paper: #fff;
    --ink: #000;
    --faint: #444;
    --rule: #bbb;
    --shade: #fff;
    --link: #000;
    --error: #8a1a10;
    --warning: #6b4400;
    --info: #063f78;
  }
  @page { margin: 16mm; }
  body { max-width: none; padding: 0; }
  code { padding: 0; }
  nav, .skip { display: none; }
  a, button { text-decoration: none; }
  h2, h3 { break-after: avoid; }
  .finding, .items > div, tr, figure { break-inside: avoid; }
  thead { display: table-header-group; }
  .scroll { overflow: visible; }
  details::details-content { content-visibility: visible; block-size: auto; }
  pre { border-left: 1px solid var(--rule); }
}
`;
