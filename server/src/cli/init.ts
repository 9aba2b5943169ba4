import { basename, resolve } from 'node:path';
import { configPath } from '../core/checks/config-invalid.ts';
import { newBase } from '../core/starting/new-base.ts';
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
  describe: 'Start a base: its config, an example of every kind of record, and what editors and GitHub need.',
  options: [
    { name: 'name', value: 'NAME', describe: "What the base is called (default: the folder's name)." },
    { name: 'dry-run', describe: 'List what would be written, and write nothing.' },
    todayOption,
  ],
  run: async (args, terminal) => {
    const folder = resolve(terminal.cwd, args.positionals[0] ?? '.');
    const files = newBase({ name: nameFor(folder, args), today: readToday(args) });
    await refuseBase(folder, terminal);
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

function nameFor(folder: string, { values }: Arguments): string {
  const { name = basename(folder) } = values;
  if (typeof name !== 'string' || name.trim() === '') {
    throw new UsageError('The name of a base cannot be empty.', 'Give one with --name.');
  }
  return name;
}

/** Throws where the folder is a base or lies in one, whatever links lead to it. */
async function refuseBase(folder: string, terminal: Terminal): Promise<void> {
  const real = await realFolder(folder);
  const base = await findBaseAbove(real);
  if (base === undefined) return;
  throw base === real
    ? new UsageError(`There is a base in ${inWords(shownPath(folder, terminal))} already.`, 'Nothing was written.')
    : new UsageError(
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
