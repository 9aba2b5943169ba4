import type { Feature } from './feature.ts';
import { documentDiagnostic } from './features/document-diagnostic.ts';
import { workspaceDiagnostic } from './features/workspace-diagnostic.ts';

/** Every request the server answers. */
export const features: readonly Feature[] = [documentDiagnostic, workspaceDiagnostic];
