import { lstatSync } from 'node:fs';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { type Capture, captureOf } from '../core/captures/capture-file.ts';
import type { CaptureProblem } from '../core/captures/decoded.ts';
import { captureText } from '../core/captures/write-capture.ts';
import { wrapText } from '../core/reports/render-text.ts';
import { keyRowsIn } from '../core/schema/key-rows.ts';
import { formatDate } from '../core/terms/calendar.ts';
import { pluralOf } from '../core/terms/kinds.ts';
import { keepUnmounted, keepUnpowered, stopForData } from '../core/terms/standing-cautions.ts';
import { sha256 } from '../core/text/sha256.ts';
import { visible } from '../core/text/visible.ts';
import { DiskHost } from '../host/disk/disk-host.ts';
import type { DriveSystem } from '../host/disk/drive-system.ts';
import { findBaseAbove } from '../host/disk/find-bases.ts';
import { findDrive } from '../host/disk/find-drive.ts';
import { realFolder } from '../host/disk/real-folder.ts';
import { writableMounts } from '../host/disk/writable-mounts.ts';
import { writeNewFile } from '../host/disk/write-new-file.ts';
import { loadConfig } from '../host/load-base.ts';
import { codeOf, reasonOf } from '../host/system-reason.ts';
import { type Arguments, type Command, todayOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { shownPath } from './open-base.ts';
import { type PlannedUtility, planUtilities, readDrive } from './read-drive.ts';
import { readSerials, serialsOption } from './read-serials.ts';
import { readToday } from './read-today.ts';
import { styled, type Terminal } from './terminal.ts';

/** `swaplore capture`: what a drive says of itself, into a new file. Nothing is ever written to a drive. */
export const capture: Command = {
  name: 'capture',
  takes: 'DEVICE',
  positionals: { min: 1, max: 1 },
  describe: 'Write what the system knows of a drive into a new file; the drive itself is asked only if wanted.',
  options: [
    { name: 'out', value: 'FILE', describe: 'The file to write, which ends in .json and is not there yet.' },
    {
      name: 'ask-drive',
      describe: 'Also run hdparm and smartctl, which send commands to the drive. It has to be up for that.',
    },
    serialsOption,
    todayOption,
  ],
  run: async (args, terminal, program) => {
    const { drives } = program;
    if (!drives) throw new UsageError('Drives can be captured on Linux only.');
    const [typed = ''] = args.positionals;
    const found = findDrive(drives.root, typed);
    if ('reason' in found) throw new UsageError(found.reason, found.help);
    const out = await readOut(args, terminal);
    const serials = readSerials(args, program, { inBase: out.base?.serials, otherwise: nothingAsked });
    const taken = formatDate(readToday(args));
    const planned = planUtilities(drives, found.name, args.values['ask-drive'] === true);
    announce(found.name, planned, drives, terminal);
    const sources = await readDrive(drives, found.name, planned);
    const made = captureOf({ sources, taken, serials });
    const text = captureText(made);
    write(out, text, terminal);
    const problems = show(made, terminal);
    if (out.base !== undefined) showReference(out.path, out.base.root, text, terminal);
    return problems.some(({ severity }) => severity === 'error') ? exitCodes.findings : exitCodes.clean;
  },
};

/** Where a capture goes, and the base it comes to lie in. */
interface Out {
  /** As the disk knows it. */
  readonly path: string;
  readonly shown: string;
  readonly base: { readonly root: string; readonly serials: 'masked' | 'full' } | undefined;
}

async function readOut({ values: { out } }: Arguments, terminal: Terminal): Promise<Out> {
  if (typeof out !== 'string') throw new UsageError('capture needs --out FILE.', nothingAsked);
  const typed = resolve(terminal.cwd, out);
  // A record file of that name would be read as records.
  if (!typed.endsWith('.json')) throw new UsageError(`${out} does not end in .json.`, nothingAsked);
  const folder = await realFolder(dirname(typed));
  const path = join(folder, basename(typed));
  refuseTaken(path, out);
  const root = await findBaseAbove(folder);
  if (root === undefined) return { path, shown: shownPath(typed, terminal), base: undefined };
  const { config } = (await loadConfig(new DiskHost(root))).reading;
  return { path, shown: shownPath(typed, terminal), base: { root, serials: config.serials } };
}

function refuseTaken(path: string, out: string): void {
  try {
    lstatSync(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return;
    throw new UsageError(`${out} cannot be written: ${reasonOf(error)}.`, nothingAsked);
  }
  throw new UsageError(`${out} is there already.`, nothingAsked);
}

const nothingAsked = 'Nothing was written, and the drive was asked nothing.';

/** Says, before anything is read, what is asked of the drive, and what to mind. */
function announce(name: string, planned: readonly PlannedUtility[], { root }: DriveSystem, terminal: Terminal): void {
  const paragraph = (text: string): void => terminal.out(`${wrapText(visible(text), terminal.columns).join('\n')}\n`);
  const caution = (text: string): void => paragraph(`Caution: ${text}`);
  paragraph(`sysfs, what the kernel kept of ${name} when it was connected: read. The drive is asked nothing.`);
  for (const { utility, because } of planned) {
    paragraph(`${utility.name}: ${because === undefined ? 'run' : `not run, since ${because}`}. It ${utility.does}.`);
  }
  paragraph('What is asked of a drive keeps it spinning and at work, so a failing one is better not asked.');
  terminal.out('\n');
  caution(`${stopForData('this drive')} ${keepUnpowered}`);
  caution(keepUnmounted);
  const mounts = writableMounts(root, name);
  if (mounts.length > 0) {
    caution(
      `${name} is mounted so that it can be written to, at ${mounts.join(', ')}. Unmount it before anything else.`,
    );
  }
  terminal.out('\n');
}

function write({ path, shown }: Out, text: string, terminal: Terminal): void {
  let reason: string;
  try {
    if (writeNewFile(path, text)) {
      terminal.out(`${visible(shown)} written.\n`);
      return;
    }
    reason = 'something else was put there meanwhile';
  } catch (error) {
    reason = reasonOf(error);
  }
  // Whatever the drive was asked need not be asked again.
  terminal.out(text);
  throw new UsageError(`${shown} cannot be written: ${reason}.`, 'The capture was printed instead.');
}

/** Shows the values of a capture and what is wrong with it; gives the latter. */
function show({ values, problems = [], sources }: Capture, terminal: Terminal): readonly CaptureProblem[] {
  for (const [name, value] of Object.entries(values)) terminal.out(`  ${name}: ${visible(String(value))}\n`);
  const isNameless = values.serial === undefined && values.model === undefined && values.wwn === undefined;
  const own = sources.flatMap(({ name, problems: found = [] }) => {
    const [program] = name.split(' ');
    return found.map(({ severity, message }) => ({ severity, message: `${program}: ${message}` }));
  });
  const all = [...problems, ...own, ...(isNameless ? [nameless] : [])];
  for (const { severity, message } of all) {
    terminal.out(`${styled(terminal, severity === 'error' ? 'red' : 'yellow', severity)}: ${visible(message)}\n`);
  }
  return all;
}

const nameless: CaptureProblem = {
  severity: 'warning',
  message: 'Nothing that was read says which drive this is.',
};

/** Says what an outcome writes to name the capture. */
function showReference(path: string, root: string, text: string, terminal: Terminal): void {
  const folder = pluralOf('outcome');
  const file = relative(join(root, folder), path).split(sep).join('/');
  const written = /^[\w./-]+$/.test(file) ? file : JSON.stringify(file);
  const [first, ...others] = keyRowsIn('outcome', ['captures']).map(({ name }) => name);
  terminal.out(`
In an outcome of ${folder}/, from which the path is counted (or ${others.join(', ')} instead):
captures:
  ${first}: {file: ${visible(written)}, sha256: ${sha256(new TextEncoder().encode(text))}}
`);
}
