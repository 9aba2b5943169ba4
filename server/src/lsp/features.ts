import type { Feature } from './feature.ts';
import { codeAction } from './features/code-action.ts';
import { codeLens } from './features/code-lens.ts';
import { completion } from './features/completion.ts';
import { documentDiagnostic } from './features/document-diagnostic.ts';
import { inlayHint } from './features/inlay-hint.ts';
import { prepareRename } from './features/prepare-rename.ts';
import { rename } from './features/rename.ts';
import { textDocumentContent } from './features/text-document-content.ts';
import { workspaceDiagnostic } from './features/workspace-diagnostic.ts';

/** Every request the server answers. */
// biome-ignore format: one feature a line
export const features: readonly Feature[] = [
  codeAction,
  codeLens,
  completion,
  documentDiagnostic,
  inlayHint,
  prepareRename,
  rename,
  textDocumentContent,
  workspaceDiagnostic,
];
