import type { Feature } from './feature.ts';
import { codeLens } from './features/code-lens.ts';
import { documentDiagnostic } from './features/document-diagnostic.ts';
import { inlayHint } from './features/inlay-hint.ts';
import { workspaceDiagnostic } from './features/workspace-diagnostic.ts';

/** Every request the server answers. */
export const features: readonly Feature[] = [codeLens, documentDiagnostic, inlayHint, workspaceDiagnostic];
