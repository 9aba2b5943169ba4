import { captureTargets } from './capture-targets.ts';
import { editTargets } from './edit-targets.ts';
import { editorTargets } from './editor-targets.ts';
import { importTargets } from './import-targets.ts';
import { loaderTargets } from './loader-targets.ts';
import { reasoningTargets } from './reasoning-targets.ts';
import { reportTargets } from './report-targets.ts';
import { serverTargets } from './server-targets.ts';
import type { Target } from './target.ts';
import { textTargets } from './text-targets.ts';

/** Every target. */
export const targets: readonly Target[] = [
  ...loaderTargets,
  ...captureTargets,
  ...editTargets,
  ...reasoningTargets,
  ...importTargets,
  ...textTargets,
  ...reportTargets,
  ...editorTargets,
  ...serverTargets,
];
