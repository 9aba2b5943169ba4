import { resolve } from 'node:path';
import { byCodeUnits } from '../core/index/snapshot.ts';
import type { Day } from '../core/terms/calendar.ts';
import { type Command, todayOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { formats, isFormat, type LintedBase } from './lint-formats.ts';
import { findBases, findingsOf, locate, noBase, type OpenBase, openBase, shownPath } from './open-base.ts';
import { readToday } from './read-today.ts';
import type { Terminal } from './terminal.ts';

/** `swaplore lint`: every check over every base found in or around the folders. */
export const lint: Command = {
  name: 'lint',
  takes: '[folder…]',
  positionals: { min: 0, max: Number.POSITIVE_INFINITY },
  describe: 'Run every check over the bases in or around the folders.',
  options: [
    { name: 'format', value: 'FORMAT', describe: `One of ${Object.keys(formats).join(', ')} (default: text).` },
    todayOption,
  ],
  run: async (args, terminal) => {
    const format = args.values['format'] ?? 'text';
    if (!isFormat(format)) {
      throw new UsageError(`Format ${format} is not known.`, `Use one of ${Object.keys(formats).join(', ')}.`);
    }
    const today = readToday(args);
    const bases: LintedBase[] = [];
    for (const root of await rootsOf(args.positionals, terminal))
      bases.push(await lintBase(await openBase(root), today, terminal));
    terminal.out(formats[format](bases, terminal));
    return exitCodeOf(bases);
  },
};

async function rootsOf(folders: readonly string[], terminal: Terminal): Promise<string[]> {
  const roots = new Set<string>();
  for (const folder of folders.length > 0 ? folders : ['.']) {
    const path = resolve(terminal.cwd, folder);
    const found = await findBases(path);
    if (found.length === 0) throw noBase(path, terminal);
    for (const root of found) roots.add(root);
  }
  return [...roots].sort(byCodeUnits);
}

async function lintBase(base: OpenBase, today: Day, terminal: Terminal): Promise<LintedBase> {
  const { snapshot, root } = base;
  return {
    root: shownPath(root, terminal),
    name: snapshot.config.name,
    files: snapshot.files.size + 1,
    records: [...snapshot.files.values()].reduce((sum, file) => sum + file.facts.records.length, 0),
    isUsable: snapshot.configFile.reading.isUsable,
    findings: await locate(base, findingsOf(snapshot, today)),
  };
}

function exitCodeOf(bases: readonly LintedBase[]): number {
  const findings = bases.flatMap((base) => base.findings);
  if (findings.some((finding) => finding.check === 'internal-check-failed')) return exitCodes.failed;
  if (bases.some((base) => !base.isUsable)) return exitCodes.couldNotRun;
  return findings.some((finding) => finding.severity === 'error') ? exitCodes.findings : exitCodes.clean;
}
