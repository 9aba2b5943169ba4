import type { JointFigures } from './comparisons.ts';
import type { DonorTimes } from './donors/donors-bench.ts';
import type { Delays } from './editor/delays.ts';
import { middle, p95 } from './quantiles.ts';
import type { Row, Unit } from './row.ts';
import type { Figure, ServedFigures } from './server/sessions.ts';
import { acrossRuns, type SizeResult } from './size-result.ts';
import {
  ajvCli,
  coldLint,
  editedLint,
  emptyNode,
  hashFiles,
  jointlyEditedLint,
  jsYaml,
  printVersion,
  reviewOfDisk,
  reviewOfRevisions,
  type Subject,
  warmLint,
  writePages,
} from './subjects.ts';
import type { PlanTimes } from './trials/trials-bench.ts';

/** What is measured, part by part. */
export interface Measured {
  /** A base of one file. */
  readonly one: SizeResult;
  readonly M: SizeResult;
  readonly L: SizeResult;
  readonly R: SizeResult;
  /** L with contradictions planted in it. */
  readonly contradictory: SizeResult;
  /** L in a repository. */
  readonly reviewed: SizeResult;
  /** Edits of L in a process that holds it, in milliseconds. */
  readonly edits: readonly number[];
  /** Reasoning over L, each time beside a cold lint of it. */
  readonly reasoning: readonly { readonly ms: number; readonly lintMs: number }[];
  readonly joint: JointFigures;
  readonly server: ServedFigures;
  readonly node: readonly Delays[];
  readonly browser: readonly Delays[];
  readonly donors: readonly DonorTimes[];
  readonly plans: readonly PlanTimes[];
}

/** Something that is aimed for. */
export interface Target extends Row<Partial<Measured>> {
  readonly most: number;
  /** What it follows from. */
  readonly part: keyof Measured;
}

/** Delay of an extension host that may be exceeded in 5 % of cases, in milliseconds. */
const mostDelayMs = 50;

/** How late the event loop of an extension host in Node may be. */
export const nodeHost = target('node', 'extension host in Node, loop delay, 95 %', [mostDelayMs, 'ms'], (all) =>
  middle(all.map(({ loopMs }) => loopMs?.p95 ?? Number.NaN)),
);
/** How late timers of one in a browser may be. */
export const browserHost = target('browser', 'extension host in a page, late by, 95 %', [mostDelayMs, 'ms'], (all) =>
  middle(all.map(({ timersMs }) => timersMs.p95)),
);
/** How long a ranking may take on the base that takes longest. */
export const rankedSpares = target('donors', '10,000 spares ranked, base just read', [300, 'ms'], (all) =>
  Math.max(...all.map(({ first }) => middle(first))),
);
/** How long a plan may take. */
export const plannedTrials = target('plans', 'plan on 10,000 spares', [3, 's'], (all) =>
  middle(all.map(({ seconds }) => seconds)),
);

/** All that is aimed for, in the order in which it is shown: the only place where limits stand. */
export const targets: readonly Target[] = [
  ratio('L', 'cold lint of L ÷ ajv-cli, schemas only', [coldLint, ajvCli], 0.5),
  ratio('M', 'cold lint of M ÷ js-yaml load', [coldLint, jsYaml], 1),
  ratio('L', 'warm lint of L ÷ read + SHA-1', [warmLint, hashFiles], 2.2),
  added('L', 'one changed file of L, adds', [editedLint, warmLint], 20),
  added('contradictory', 'one changed file, joint reasoning, adds', [jointlyEditedLint, warmLint], 70),
  target('edits', 'one edit of L in memory, 95 %', [20, 'ms'], p95),
  target('reasoning', 'reasoning over L, share of a cold lint', [30, '%'], (all) =>
    middle(all.map(({ ms, lintMs }) => (100 * ms) / lintMs)),
  ),
  target('joint', 'all checks of L after an edit, 95 %', [50, 'ms'], ({ editMs }) => p95(editMs)),
  target('L', 'peak of a cold lint of L', [250, 'MB'], (result) =>
    acrossRuns(result, (run) => run(coldLint).peakBytes / 1e6),
  ),
  ratio('one', '--version ÷ empty Node', [printVersion, emptyNode], 1.3),
  ratio('one', 'lint of one file ÷ empty Node', [warmLint, emptyNode], 1.9),
  served('start to first diagnostics, cold', 'firstCold', middle, [300, 'ms']),
  served('start to first diagnostics, cached', 'firstCached', middle, [300, 'ms']),
  served('base indexed, cold', 'indexedCold', middle, [4, 's']),
  served('base indexed, cached', 'indexedCached', middle, [1, 's']),
  served('hover meanwhile, cold, 95 %', 'answerCold', p95, [20, 'ms']),
  served('hover meanwhile, cached, 95 %', 'answerCached', p95, [20, 'ms']),
  served('key to diagnostics, 70 lines, 95 %', 'keySmall', p95, [60, 'ms']),
  computed('key, 70 lines, computing, median', 'keySmall', middle, 3),
  computed('key, 70 lines, computing, 95 %', 'keySmall', p95, 8),
  computed('key, 5,000 lines, computing, median', 'keyBig', middle, 30),
  computed('key, 5,000 lines, computing, 95 %', 'keyBig', p95, 60),
  computed('key, 5,000 broken, computing, 95 %', 'keyBroken', p95, 150),
  computed('joint reasoning after a key, 95 %', 'joint', p95, 50),
  served('hover, 70 lines, 95 %', 'hoverSmall', p95, [3, 'ms']),
  served('hover, 5,000 lines, 95 %', 'hoverBig', p95, [5, 'ms']),
  served('completion, 70 lines, 95 %', 'completionSmall', p95, [5, 'ms']),
  served('completion, 5,000 lines, 95 %', 'completionBig', p95, [30, 'ms']),
  served('memory, 50 files open, cold', 'memoryCold', middle, [250, 'MB']),
  served('memory, 50 files open, cached', 'memory', middle, [250, 'MB']),
  served('memory after 1,000 more files', 'memoryAfter', middle, [250, 'MB']),
  target('server', 'memory after 1,000 more files ÷ before', [1.1, '×'], ({ figures }) => {
    return middle(figures.of('memoryAfter')) / middle(figures.of('memoryBefore'));
  }),
  nodeHost,
  browserHost,
  target('R', 'report of 500 families', [10, 's'], (result) => acrossRuns(result, (run) => run(writePages).ms / 1000)),
  ratio('reviewed', 'review of five files ÷ cold lint', [reviewOfDisk, coldLint], 1.3),
  ratio('reviewed', 'review of two revisions ÷ cold lint', [reviewOfRevisions, coldLint], 1.3),
  rankedSpares,
  plannedTrials,
];

function target<Part extends keyof Measured>(
  part: Part,
  what: string,
  [most, unit]: readonly [number, Unit],
  value: (of: Measured[Part]) => number,
): Target {
  const valueIn = (measured: Partial<Measured>): number => {
    const of = measured[part];
    return of === undefined ? Number.NaN : value(of);
  };
  return { part, what, most, unit, value: valueIn };
}

/** The parts that are whole processes on one base. */
type Processes = { [Part in keyof Measured]: Measured[Part] extends SizeResult ? Part : never }[keyof Measured];

function ratio(part: Processes, what: string, [a, b]: readonly [Subject, Subject], most: number): Target {
  return target(part, what, [most, '×'], (result) => acrossRuns(result, (run) => run(a).ms / run(b).ms));
}

function added(part: Processes, what: string, [a, b]: readonly [Subject, Subject], most: number): Target {
  return target(part, what, [most, 'ms'], (result) => acrossRuns(result, (run) => run(a).ms - run(b).ms));
}

type Summary = (values: readonly number[]) => number;

function served(what: string, figure: Figure, of: Summary, [most, unit]: readonly [number, 'ms' | 's' | 'MB']): Target {
  const parts = { ms: 1, s: 1000, MB: 1e6 }[unit];
  return target('server', what, [most, unit], ({ figures }) => of(figures.of(figure)) / parts);
}

/** What a server takes, the time left out that it waits for another key. */
function computed(what: string, figure: Figure, of: Summary, most: number): Target {
  return target('server', what, [most, 'ms'], ({ figures, debounceMs }) => of(figures.of(figure)) - debounceMs);
}
