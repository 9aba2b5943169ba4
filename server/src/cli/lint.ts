import { resolve } from 'node:path';
import type { Check } from '../core/checks/define-check.ts';
import { internalCheckFailed } from '../core/checks/internal-check-failed.ts';
import { checks as allChecks } from '../core/checks/registry.ts';
import type { FoundAt } from '../core/checks/resolve-findings.ts';
import { findingsOf, runChecks } from '../core/checks/run-checks.ts';
import { countBySeverity } from '../core/reports/counts-in-words.ts';
import type { Day } from '../core/terms/calendar.ts';
import { drained } from '../core/terms/drained.ts';
import { byCodeUnits } from '../core/text/by-code-units.ts';
import { plural } from '../core/text/plural.ts';
import type { DiskBase } from '../host/disk/disk-base.ts';
import type { RememberedRun } from '../host/disk/remembered-run.ts';
import { checkBase, inputsOf } from './check-base.ts';
import { type Arguments, type Command, noCacheOption, todayOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import type { LintedBase } from './formats/linted-base.ts';
import { getCheck } from './get-check.ts';
import { formats, formatsWithFixes, isFormat } from './lint-formats.ts';
import { LintStats } from './lint-stats.ts';
import { findBases, type Memory, memoryOf, noBase, type Surveyed, shownPath, surveyBase } from './open-base.ts';
import { placeAgain, placeWith } from './place-again.ts';
import { planFixes } from './plan-fixes.ts';
import { readToday } from './read-today.ts';
import type { Terminal } from './terminal.ts';

const formatNames = Object.keys(formats).join(', ');

/** `swaplore lint`: every check over every base found in or around the folders. */
export const lint: Command = {
  name: 'lint',
  takes: '[folder…]',
  positionals: { min: 0, max: Number.POSITIVE_INFINITY },
  describe: 'Run every check over the bases in or around the folders.',
  options: [
    { name: 'format', value: 'FORMAT', describe: `One of ${formatNames} (default: text).` },
    { name: 'max-warnings', value: 'N', describe: 'End with exit code 1 where there are more warnings than this.' },
    { name: 'check', value: 'ID', repeatable: true, describe: 'Run this check only; may be given several times.' },
    { name: 'quiet', describe: 'Print errors only. All findings are still counted.' },
    { name: 'stats', describe: 'Print numbers and times of the run to standard error.' },
    todayOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const { maxWarnings, hasStats, ...options } = readOptions(args);
    const { format } = options;
    const memory = memoryOf(args, program);
    const stats = new LintStats();
    const roots = await stats.time('find', () => rootsOf(args.positionals, terminal));
    const bases: LintedBase[] = [];
    for (const root of roots) bases.push(await lintBase(root, { ...options, stats, terminal, memory }));
    await stats.time('print', () =>
      terminal.out(formats[format](bases, { terminal, version: program.version, checks: options.checks })),
    );
    if (hasStats) terminal.err(stats.toText());
    return endOf(bases, maxWarnings, terminal);
  },
};

interface Options {
  readonly format: keyof typeof formats;
  readonly maxWarnings: number;
  readonly checks: readonly Check[];
  readonly today: Day;
  readonly isQuiet: boolean;
  readonly hasStats: boolean;
}

function readOptions(args: Arguments): Options {
  const { values } = args;
  const format = values['format'] ?? 'text';
  if (!isFormat(format)) throw new UsageError(`Format \`${format}\` is not known.`, `Use one of ${formatNames}.`);
  const limit = values['max-warnings'];
  if (typeof limit === 'string' && !/^\d+$/.test(limit)) {
    throw new UsageError(`--max-warnings cannot be ${limit}; a whole number is needed.`);
  }
  const ids = values['check'];
  return {
    format,
    maxWarnings: limit === undefined ? Number.POSITIVE_INFINITY : Number(limit),
    checks: Array.isArray(ids) ? [...new Set(ids.map((id: string) => getCheck(id)))] : allChecks,
    today: readToday(args),
    isQuiet: values['quiet'] === true,
    hasStats: values['stats'] === true,
  };
}

async function rootsOf(folders: readonly string[], terminal: Terminal): Promise<string[]> {
  const roots = new Set<string>();
  for (const folder of folders.length > 0 ? folders : ['.']) {
    const path = resolve(terminal.cwd, folder);
    const found = await findBases(path, terminal);
    if (found.length === 0) throw noBase(path, terminal);
    for (const root of found) roots.add(root);
  }
  return [...roots].sort(byCodeUnits);
}

interface Surroundings extends Pick<Options, 'checks' | 'today' | 'isQuiet' | 'format'> {
  readonly stats: LintStats;
  readonly terminal: Terminal;
  readonly memory: Memory;
}

async function lintBase(root: string, surroundings: Surroundings): Promise<LintedBase> {
  const { stats, terminal, memory, today, isQuiet, format } = surroundings;
  const surveyed = await stats.time('load', () => surveyBase(root, terminal, memory));
  const { base } = surveyed;
  const { records, findings } = await findingsIn(surveyed, surroundings);
  const files = base.fileCount + 1;
  stats.addBase({ files, attachments: base.attachmentCount, records, bytes: base.bytes, ...base.counts });
  stats.addFindings(findings);
  const { isUsable, config } = base.configFile.reading;
  const shown = isQuiet ? findings.filter(({ severity }) => severity === 'error') : findings;
  const checked = async () => drained(runChecks(await base.snapshot(), { today }));
  const fixes = formatsWithFixes.has(format)
    ? await stats.time('locate', () => planFixes(root, shown, checked))
    : new Map();
  return {
    root: shownPath(root, terminal),
    name: config.name,
    files,
    records,
    isUsable,
    findings,
    shown,
    fixes,
  };
}

/** What is found in a base: as it was remembered, or only placed anew where its files say the same in other words, or by checking. */
async function findingsIn(
  surveyed: Surveyed,
  surroundings: Surroundings,
): Promise<Pick<RememberedRun, 'records' | 'findings'>> {
  const { root, base, cache } = surveyed;
  const { stats } = surroundings;
  const inputs = inputsOf(base, surroundings);
  const remembered = inputs && cache?.findRun(inputs);
  if (remembered && isInPlace(remembered, base)) return remembered;
  const before = (remembered && cache?.readFound(inputs)) ?? [];
  const run =
    remembered && before.length > 0
      ? { ...remembered, found: await stats.time('locate', () => placeAgain(root, before, base)) }
      : await runOver(inputs ? surveyed : { ...surveyed, cache: undefined }, surroundings);
  const findings = run.found.map(([shown]) => shown);
  // A check that failed may work the next time (invariant 12).
  const hasFailed = findings.some(({ check }) => check === internalCheckFailed.check);
  if (inputs && !hasFailed) cache?.writeRun(inputs, run.records, run.found);
  return { records: run.records, findings };
}

/** Whether the files in which a run has found something are what they were. */
function isInPlace({ contents }: RememberedRun, base: DiskBase): boolean {
  return Object.entries(contents).every(([path, id]) => (base.contentIdOf(path) ?? id) === id);
}

/** Checks a base and finds the places of what was found. */
async function runOver(
  surveyed: Surveyed,
  { today, checks, stats }: Surroundings,
): Promise<{ readonly records: number; readonly found: readonly FoundAt[] }> {
  const { root, cache } = surveyed;
  const checked = await checkBase(surveyed, { today, checks }, (phase, work) => stats.time(phase, work));
  const found = await stats.time('locate', () => placeWith(cache?.readFound() ?? [], root, findingsOf(checked)));
  return { records: checked.snapshot.recordCount, found };
}

function endOf(bases: readonly LintedBase[], maxWarnings: number, terminal: Terminal): number {
  const findings = bases.flatMap((base) => base.findings);
  const { error, warning } = countBySeverity(findings);
  const isOver = warning > maxWarnings;
  if (isOver) terminal.err(`swaplore: ${plural(warning, 'warning')}, where --max-warnings allows ${maxWarnings}.\n`);
  if (findings.some((finding) => finding.check === 'internal-check-failed')) return exitCodes.failed;
  if (bases.some((base) => !base.isUsable)) return exitCodes.couldNotRun;
  return error > 0 || isOver ? exitCodes.findings : exitCodes.clean;
}
