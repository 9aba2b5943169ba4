import { basename, resolve } from 'node:path';
import { configPath } from '../core/checks/config-invalid.ts';
import { type CiKitId, ciKitIds, filesOfKits, usualKits } from '../core/starting/ci-kits.ts';
import { newBase } from '../core/starting/new-base.ts';
import type { NewFile } from '../core/starting/new-file.ts';
import { findTool, type Tool, usualTool } from '../core/starting/tool.ts';
import { nearestClause, nearNames } from '../core/text/near-names.ts';
import { plural } from '../core/text/plural.ts';
import { visible } from '../core/text/visible.ts';
import { findBaseAbove } from '../host/disk/find-bases.ts';
import { lookAhead, type Made, makeFiles } from '../host/disk/new-files.ts';
import { realFolder } from '../host/disk/real-folder.ts';
import { type Arguments, type Command, todayOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { shownFile, shownPath } from './open-base.ts';
import { readToday } from './read-today.ts';
import type { Terminal } from './terminal.ts';

/** `swaplore init`: a new base. What is in the folder already stays as it is. */
export const init: Command = {
  name: 'init',
  takes: '[folder]',
  positionals: { min: 0, max: 1 },
  describe:
    'Start a base: its config, an example of every kind of record, and what editors and hosts of repositories need.',
  options: [
    { name: 'name', value: 'NAME', describe: "What the base is called (default: the folder's name)." },
    {
      name: 'ci',
      value: 'KIT',
      repeatable: true,
      describe: `What checks the base by itself: ${ciKitIds.join(', ')} (default: ${usualKits.join(', ')}); may be given several times. In a base that is there already, only these files are written.`,
    },
    {
      name: 'tool',
      value: 'SPEC',
      describe: `Where that gets swaplore from: a tarball below the folder, or a package with its version, such as swaplore@0.1.0 (default: ${usualTool.tarball}).`,
    },
    { name: 'dry-run', describe: 'List what would be written, and write nothing.' },
    todayOption,
  ],
  run: async (args, terminal) => {
    const folder = resolve(terminal.cwd, args.positionals[0] ?? '.');
    const files = await filesFor(folder, args, terminal);
    const shown = shownPath(folder, terminal);
    const ahead = lookAhead(folder, files);
    if (ahead.obstacle) throw cannotBegin(shownFile(shown, ahead.obstacle.path), ahead.obstacle.reason);
    if (ahead.taken.includes(configPath)) throw cannotBegin(shownFile(shown, configPath), 'is no file');
    if (args.values['dry-run'] === true) {
      terminal.out(listed(ahead, 'would be written to', shown));
      return exitCodes.clean;
    }
    const made = makeFiles(folder, files);
    if (made.obstacle) throw cannotGoOn(made, shown);
    const place = shown === '.' ? '' : ` ${visible(shown)}`;
    terminal.out(`${listed(made, 'written to', shown)}Check it with: swaplore lint${place}\n`);
    return exitCodes.clean;
  },
};

/** A whole base; for one that is there already the kits that were asked for. */
async function filesFor(folder: string, args: Arguments, terminal: Terminal): Promise<readonly NewFile[]> {
  const [kits, tool] = [readKits(args), readTool(args)];
  const base = { name: nameFor(folder, args), today: readToday(args), kits: kits ?? usualKits, tool };
  if (!(await isBase(folder, terminal))) return newBase(base);
  if (kits) return filesOfKits(kits, tool);
  throw new UsageError(
    `There is a base in ${inWords(shownPath(folder, terminal))} already.`,
    'Nothing was written. With --ci the files of a kit are added to it.',
  );
}

function readKits({ values: { ci } }: Arguments): readonly CiKitId[] | undefined {
  return Array.isArray(ci) ? ci.map((id: string) => getKit(id)) : undefined;
}

function getKit(id: string): CiKitId {
  const known = ciKitIds.find((kit) => kit === id);
  if (known) return known;
  const nearest = nearestClause(nearNames(id, ciKitIds));
  throw new UsageError(`Kit \`${id}\` is not known${nearest}.`, `Use one of ${ciKitIds.join(', ')}.`);
}

function readTool({ values }: Arguments): Tool {
  const { tool: given } = values;
  if (typeof given !== 'string') return usualTool;
  const tool = findTool(given);
  if (tool) return tool;
  throw new UsageError(
    `--tool cannot be ${given}.`,
    'A tarball below the folder is needed, such as tools/swaplore.tgz, or a package with its version, such as swaplore@0.1.0.',
  );
}

function nameFor(folder: string, { values }: Arguments): string {
  const { name = basename(folder) } = values;
  if (typeof name !== 'string' || name.trim() === '') {
    throw new UsageError('The name of a base cannot be empty.', 'Give one with --name.');
  }
  return name;
}

/** Whether the folder is a base, whatever links lead to it. Throws where it lies in one. */
async function isBase(folder: string, terminal: Terminal): Promise<boolean> {
  const real = await realFolder(folder);
  const base = await findBaseAbove(real);
  if (base === undefined || base === real) return base !== undefined;
  throw new UsageError(
    `${shownPath(folder, terminal)} lies in the base ${shownPath(base, terminal)}.`,
    'Nothing was written. Name a folder outside of it.',
  );
}

function cannotBegin(path: string, reason: string): UsageError {
  return new UsageError(
    `${path} ${reason}, so nothing was written.`,
    'Name another folder, or move what stands there.',
  );
}

function cannotGoOn({ written, obstacle }: Made, folder: string): UsageError {
  const where = shownFile(folder, obstacle?.path ?? '');
  const so = written.length > 0 ? `Written before, and left there: ${written.join(', ')}.` : 'Nothing was written.';
  return new UsageError(`${where} ${obstacle?.reason}.`, `${so} Once that is mended, the same command goes on.`);
}

function listed({ written, taken }: Made, verb: string, folder: string): string {
  const stays = taken.length > 0 ? [`There already, and left as they are: ${taken.join(', ')}`] : [];
  const lines = [
    `${plural(written.length, 'file')} ${verb} ${visible(inWords(folder))}:`,
    ...written.map((path) => `  ${path}`),
    ...stays,
  ];
  return `${lines.join('\n')}\n`;
}

function inWords(shown: string): string {
  return shown === '.' ? 'this folder' : shown;
}
