import { hosts } from '../vscode/launch/hosts.ts';
import type { CachedBase } from './base/base-cache.ts';
import { reviewedBase } from './base/reviewed-base.ts';
import { donorTimes } from './donors/donors-bench.ts';
import { delaysIn } from './editor/editor-bench.ts';
import { editTimes, jointFigures, reasoningTimes } from './in-process.ts';
import { baseOfOneFile, measureSize } from './measure-size.ts';
import { buildPrograms } from './programs.ts';
import { servedBase } from './server/served-base.ts';
import { servedFigures } from './server/server-bench.ts';
import {
  ajvCli,
  coldLint,
  editedLint,
  hashFiles,
  jointlyEditedLint,
  jsYaml,
  reportSubjects,
  reviewOfDisk,
  reviewOfRevisions,
  startSubjects,
  warmLint,
} from './subjects.ts';
import type { Measured } from './targets.ts';
import { planTimes } from './trials/trials-bench.ts';

/** What was measured, and why the rest was not. */
export interface MeasuredTargets {
  readonly measured: Partial<Measured>;
  readonly lacking: Readonly<Partial<Record<keyof Measured, string>>>;
}

/** The bases of sizes M, L and R. */
export type TargetBases = Readonly<Record<'M' | 'L' | 'R', CachedBase>>;

/** Measures everything that something is aimed for. What cannot be measured costs nothing but itself. */
export async function measureTargets(bases: TargetBases, seed: string, runs: number): Promise<MeasuredTargets> {
  await buildPrograms();
  const measured: { -readonly [Part in keyof Measured]?: Measured[Part] } = {};
  const lacking: { [Part in keyof Measured]?: string } = {};
  const parts = partsOf(bases, seed, runs);
  for (const part of Object.keys(parts) as (keyof Measured)[]) await add(part);
  return { measured, lacking };

  async function add<Part extends keyof Measured>(part: Part): Promise<void> {
    const started = performance.now();
    try {
      measured[part] = await parts[part]();
    } catch (error) {
      lacking[part] = error instanceof Error ? error.message : String(error);
    }
    process.stderr.write(`${part}: ${((performance.now() - started) / 1000).toFixed(0)} s\n`);
  }
}

type Parts = {
  readonly [Part in keyof Measured]: () => Measured[Part] | Promise<Measured[Part]>;
};

/** How each part is measured, in this order. */
function partsOf({ M, L, R }: TargetBases, seed: string, runs: number): Parts {
  const [node, browser] = hosts;
  const planted = { ...L, folder: servedBase(L).folder };
  return {
    one: () => measureSize(baseOfOneFile(), 'one', startSubjects, 4 * runs),
    M: () => measureSize(M, 'M', [jsYaml, coldLint], runs),
    L: () => measureSize(L, 'L', [hashFiles, ajvCli, coldLint, warmLint, editedLint], runs),
    contradictory: () => measureSize(planted, 'L, planted', [coldLint, warmLint, jointlyEditedLint], runs),
    reviewed: () => measureSize(reviewedBase(L), 'L, reviewed', [coldLint, reviewOfDisk, reviewOfRevisions], runs),
    R: () => measureSize(R, 'R', reportSubjects, runs),
    edits: () => editTimes(L.folder),
    reasoning: () => reasoningTimes(L, runs),
    joint: jointFigures,
    donors: () => donorTimes(seed, runs),
    plans: () => planTimes(seed, runs),
    server: () => servedFigures(L, seed, runs),
    node: () => delaysIn(node, L.folder, runs),
    // It takes a minute, and thousands of timers are looked at in one.
    browser: () => delaysIn(browser, L.folder, 1),
  };
}
