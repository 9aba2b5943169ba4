import { capture } from './capture.ts';
import type { Command } from './command.ts';
import { contradictions } from './contradictions.ts';
import { decode } from './decode.ts';
import { donors } from './donors.ts';
import { explain } from './explain.ts';
import { checkId } from './explain-check.ts';
import { key } from './explain-key.ts';
import { exportBase } from './export.ts';
import { importTable } from './import.ts';
import { init } from './init.ts';
import { lint } from './lint.ts';
import { odds } from './odds.ts';
import { plan } from './plan.ts';
import { record } from './record.ts';
import { report } from './report.ts';
import { review } from './review.ts';
import { rom } from './rom.ts';
import { serve } from './serve.ts';
import { trace } from './trace.ts';

/** Every command, in the order help lists them. */
export const commands: readonly Command[] = [
  lint,
  contradictions,
  review,
  odds,
  donors,
  explain,
  plan,
  record,
  importTable,
  decode,
  capture,
  trace,
  rom,
  report,
  exportBase,
  key,
  checkId,
  init,
  serve,
];
