import type { Feature } from './feature.ts';
import { documentDiagnostic } from './features/document-diagnostic.ts';
import { hover } from './features/hover.ts';
import { textDocumentContent } from './features/text-document-content.ts';
import { workspaceDiagnostic } from './features/workspace-diagnostic.ts';

/** Every request the server answers. */
export const features: readonly Feature[] = [documentDiagnostic, textDocumentContent, workspaceDiagnostic, hover];
