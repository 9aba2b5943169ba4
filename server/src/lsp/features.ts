import type { Feature } from './feature.ts';
import { codeLens } from './features/code-lens.ts';
import { documentDiagnostic } from './features/document-diagnostic.ts';
import { inlayHint } from './features/inlay-hint.ts';
import { textDocumentContent } from './features/text-document-content.ts';
import { workspaceDiagnostic } from './features/workspace-diagnostic.ts';

/** Every request the server answers. */
// biome-ignore format: one feature a line
export const features: readonly Feature[] = [
  codeLens,
  documentDiagnostic,
  inlayHint,
  textDocumentContent,
  workspaceDiagnostic,
];
