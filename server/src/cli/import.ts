import { relative, resolve, sep } from 'node:path';
import { type ImportPlan, planImport } from '../core/importing/plan-import.ts';
import { fitImportMap, readImportMap } from '../core/importing/read-import-map.ts';
import { suggestMap } from '../core/importing/suggest-map.ts';
import { newlyWanted, wantsOf } from '../core/index/attachments.ts';
import type { Snapshot } from '../core/index/snapshot.ts';
import { BasePaths } from '../core/model/base-path.ts';
import { drained } from '../core/terms/drained.ts';
import { inThousands } from '../core/text/in-thousands.ts';
import { DiskAttachments } from '../host/disk/disk-attachments.ts';
import { lookAhead, makeFiles } from '../host/disk/new-files.ts';
import { findTable, type NoTable, parseTable } from '../host/disk/parse-table.ts';
import { readBoundedFile } from '../host/disk/read-bounded-file.ts';
import { type Command, folderOption, jsonOption, noCacheOption, todayOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { type ImportRun, importData, importText, mapFaultsText } from './import-text.ts';
import { type OpenBase, openOneBase, shownFile, shownPath } from './open-base.ts';
import { readToday } from './read-today.ts';
import { type Terminal, toJsonText } from './terminal.ts';

/**
 * `swaplore import`: makes records of a shop's own table, as a map says.
 *
 * With `--json` one map: `{"base", "table", "dryRun", "rows": {"in", "refused", "empty"}, "written": [{"record", "file", "rows"}],
 * "here", "refusals": [{"row", "line", "column", "value", "record", "reason", "help"}], "differences": [{"row", "line", "column",
 * "record", "file", "key", "said", "here"}]}`. Rows are numbered as in a spreadsheet, lines as in the file; keys that do not apply are
 * left out. On a dry run `written` is what would be, each with its `text`.
 */
export const importTable: Command = {
  name: 'import',
  takes: 'TABLE',
  positionals: { min: 1, max: 1 },
  describe: "Make records of a shop's own table (CSV), row by row, as a map says. What is here already stays as it is.",
  options: [
    { name: 'map', value: 'FILE', describe: 'The map: which column fills which key of which record (YAML).' },
    { name: 'suggest-map', describe: 'Print a map to begin with, made of the headings and what stands below them.' },
    { name: 'dry-run', describe: 'Say what would be written, and write nothing.' },
    folderOption,
    jsonOption,
    todayOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const [typed = ''] = args.positionals;
    if (args.values['suggest-map'] === true) {
      if (args.values['map'] !== undefined) throw new UsageError('--suggest-map makes a map, so it takes none.');
      const { snapshot } = await openOneBase(args, terminal, program);
      const { table, settings } = usable(typed, findTable(readBytes(typed, terminal)));
      terminal.out(suggestMap({ table, settings, snapshot }));
      return exitCodes.clean;
    }
    const mapPath = args.values['map'];
    if (typeof mapPath !== 'string') {
      throw new UsageError('A table needs a map.', 'Name one with --map, or have one proposed by --suggest-map.');
    }
    const read = readImportMap(readBytes(mapPath, terminal));
    if ('faults' in read) return refuseMap(mapPath, read, terminal);
    const table = usable(typed, parseTable(readBytes(typed, terminal), read.data.table ?? {}));
    const map = fitImportMap(read, table.headings);
    if ('faults' in map) return refuseMap(mapPath, { ...map, tape: read.tape }, terminal);
    const base = await openOneBase(args, terminal, program);
    refuseHiddenIds(base, terminal);
    warnOfMapInBase(base, mapPath, terminal);
    const plan = drained(planImport({ map, table, snapshot: base.snapshot, today: readToday(args), ...onDisk(base) }));
    const run: ImportRun = {
      plan,
      table: typed,
      base: base.snapshot.config.name ?? shownPath(base.root, terminal),
      root: shownPath(base.root, terminal),
      isDryRun: args.values['dry-run'] === true,
    };
    if (!run.isDryRun) write(plan, base, terminal);
    terminal.out(args.values['json'] === true ? toJsonText(importData(run)) : importText(run, terminal));
    return plan.refusals.length + plan.differences.length > 0 ? exitCodes.findings : exitCodes.clean;
  },
};

function readBytes(typed: string, terminal: Terminal): Uint8Array {
  const file = readBoundedFile(resolve(terminal.cwd, typed), mostTableBytes);
  if ('bytes' in file) return file.bytes;
  const reason =
    'reason' in file ? file.reason : `it has more than ${inThousands(mostTableBytes)} bytes; divide it into several`;
  throw new UsageError(`${typed} cannot be read: ${reason}.`);
}

/** Bytes of the largest table that is read: some 100,000 rows, which as cells take up a multiple of that. */
const mostTableBytes = 20_000_000;

function usable<Found extends object>(typed: string, found: Found | NoTable): Found {
  if ('reason' in found) throw new UsageError(`${typed} cannot be read as a table. ${found.reason}`, found.help);
  return found;
}

function refuseMap(path: string, faulty: Parameters<typeof mapFaultsText>[1], terminal: Terminal): number {
  terminal.err(mapFaultsText(path, faulty, terminal));
  return exitCodes.couldNotRun;
}

/** Where an id may be hidden, nobody can tell whether a record is here already. */
function refuseHiddenIds({ snapshot, root }: OpenBase, terminal: Terminal): void {
  if (!snapshot.mayMissIds) return;
  throw new UsageError(
    `A file of the base ${shownPath(root, terminal)} cannot be read, so nobody can tell which records are here already.`,
    'swaplore lint names it. Nothing was written.',
  );
}

function warnOfMapInBase({ snapshot, root }: OpenBase, mapPath: string, terminal: Terminal): void {
  const path = relative(root, resolve(terminal.cwd, mapPath)).split(sep).join('/');
  if (path.startsWith('../') || !new BasePaths(snapshot.config.ignore).belongs(path)) return;
  terminal.err(
    `swaplore: ${mapPath} lies in the base, where swaplore lint takes it for a record. Keep it outside, or name it under \`ignore\`.\n`,
  );
}

/** What planning asks of the disk. */
function onDisk({
  root,
  snapshot: before,
}: OpenBase): Pick<Parameters<typeof planImport>[0], 'obstacleAt' | 'withSeen'> {
  const disk = new DiskAttachments(root);
  return {
    obstacleAt: (path) => {
      const { taken, obstacle } = lookAhead(root, [{ path, text: '' }]);
      if (obstacle) return `cannot be made: ${obstacle.path} ${obstacle.reason}`;
      return taken.length > 0 ? 'is there already' : undefined;
    },
    withSeen: (snapshot: Snapshot) => {
      const { wanted } = newlyWanted(wantsOf(before), wantsOf(snapshot));
      return snapshot.withAttachments(wanted.map((file) => [file.path, disk.look(file).seen] as const));
    },
  };
}

function write({ records }: ImportPlan, { root }: OpenBase, terminal: Terminal): void {
  const { written, taken, obstacle } = makeFiles(root, records);
  const [path, reason] = obstacle
    ? [obstacle.path, obstacle.reason]
    : [taken[0], 'was made by somebody else meanwhile'];
  if (path === undefined) return;
  throw new UsageError(
    `${shownFile(shownPath(root, terminal), path)} ${reason}.`,
    `${written.length} of ${records.length} files were written and are whole. Once that is mended, the same command goes on.`,
  );
}
