import type { Feature } from './feature.ts';
import { branches } from './features/branches.ts';
import { choices } from './features/choices.ts';
import { codeAction } from './features/code-action.ts';
import { codeLens } from './features/code-lens.ts';
import { compareImages } from './features/compare-images.ts';
import { completion } from './features/completion.ts';
import { definition } from './features/definition.ts';
import { documentDiagnostic } from './features/document-diagnostic.ts';
import { documentHighlight } from './features/document-highlight.ts';
import { documentLink } from './features/document-link.ts';
import { documentSymbol } from './features/document-symbol.ts';
import { executeCommand } from './features/execute-command.ts';
import { foldingRange } from './features/folding-range.ts';
import { formatting } from './features/formatting.ts';
import { hover } from './features/hover.ts';
import { inlayHint } from './features/inlay-hint.ts';
import { newBase } from './features/new-base.ts';
import { prepareRename } from './features/prepare-rename.ts';
import { rangeFormatting } from './features/range-formatting.ts';
import { record } from './features/record.ts';
import { references } from './features/references.ts';
import { rename } from './features/rename.ts';
import { report } from './features/report.ts';
import { review } from './features/review.ts';
import { selectionRange } from './features/selection-range.ts';
import { textDocumentContent } from './features/text-document-content.ts';
import { trace } from './features/trace.ts';
import { treeChildren } from './features/tree-children.ts';
import { treeDetail } from './features/tree-detail.ts';
import { willSaveWaitUntil } from './features/will-save-wait-until.ts';
import { workspaceDiagnostic } from './features/workspace-diagnostic.ts';
import { workspaceSymbol } from './features/workspace-symbol.ts';

/** Every request the server answers. */
// biome-ignore format: one feature a line
export const features: readonly Feature[] = [
  branches,
  choices,
  codeAction,
  codeLens,
  compareImages,
  completion,
  definition,
  documentDiagnostic,
  documentHighlight,
  documentLink,
  documentSymbol,
  executeCommand,
  foldingRange,
  formatting,
  hover,
  inlayHint,
  newBase,
  prepareRename,
  rangeFormatting,
  record,
  references,
  rename,
  report,
  review,
  selectionRange,
  textDocumentContent,
  trace,
  treeChildren,
  treeDetail,
  willSaveWaitUntil,
  workspaceDiagnostic,
  workspaceSymbol,
];
