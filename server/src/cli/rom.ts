import { createHash } from 'node:crypto';
import { realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { knownOfImages } from '../core/features/known-of-images.ts';
import type { Snapshot } from '../core/index/snapshot.ts';
import type { DriveRecord } from '../core/model/record.ts';
import { romDocument } from '../core/reports/rom.ts';
import { compareImages, type ImagesInput, type RomImage } from '../core/rom-images/compare-images.ts';
import { comparisonData } from '../core/rom-images/comparison-data.ts';
import { isOneRead, mostImageBytes, tooLargeForRom } from '../core/rom-images/image-size.ts';
import { visible } from '../core/text/visible.ts';
import { readBoundedFile } from '../host/disk/read-bounded-file.ts';
import { type Arguments, type Command, folderOption, jsonOption, noCacheOption, type Program } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { notRecorded } from './not-recorded.ts';
import { openOneBase, shownPath } from './open-base.ts';
import { type Terminal, toJsonText } from './terminal.ts';
import { writePage } from './write-page.ts';

/** `swaplore rom`: whether reads of a ROM chip can be trusted, and whether an image arrived on the donor's chip. */
export const rom: Command = {
  name: 'rom',
  takes: 'READ1 [READ2]',
  positionals: { min: 1, max: 2 },
  describe:
    "Compare two reads of a patient's ROM chip with each other, with what is on the donor's chip and with the drive's record. Exit code 1: do not write.",
  options: [
    { name: 'donor-now', value: 'IMAGE', describe: "What was read from the donor's chip, before or after writing." },
    {
      name: 'drive',
      value: 'ID',
      describe: 'The recorded drive whose chip was read, to look for its numbers and its image.',
    },
    { name: 'out', value: 'FILE', describe: 'Write the report as a page for a browser, too.' },
    folderOption,
    jsonOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const [read1 = '', read2] = args.positionals;
    const donorNow = optionOf(args, 'donor-now');
    const base = await readBase(args, terminal, program);
    const images = {
      read1: readImage(read1, terminal),
      read2: read2 === undefined ? undefined : readImage(read2, terminal),
      donorNow: donorNow === undefined ? undefined : readImage(donorNow, terminal),
    };
    refuseOneFileTwice([read1, read2, donorNow], terminal);
    const comparison = compareImages({ ...images, ...base });
    const document = romDocument(comparison);
    const out = optionOf(args, 'out');
    const page = out === undefined ? undefined : resolve(terminal.cwd, out);
    if (page !== undefined) writePage(page, document, terminal);
    if (args.values['json'] === true) terminal.out(toJsonText(comparisonData(comparison)));
    else {
      terminal.out(documentText(document, terminal));
      if (page !== undefined) terminal.out(`\nWritten to ${visible(shownPath(page, terminal))}\n`);
    }
    return comparison.remarks[0].severity === 'error' ? exitCodes.findings : exitCodes.clean;
  },
};

function optionOf({ values }: Arguments, name: string): string | undefined {
  const value = values[name];
  return typeof value === 'string' && value !== '' ? value : undefined;
}

/** What a base says of the drive and of recorded images; nothing where neither a drive nor a base was named. */
async function readBase(
  args: Arguments,
  terminal: Terminal,
  program: Program,
): Promise<Pick<ImagesInput, 'drive' | 'recorded'>> {
  const id = optionOf(args, 'drive');
  if (id === undefined && args.values['folder'] === undefined) return { recorded: [] };
  const { snapshot } = await openOneBase(args, terminal, program);
  return knownOfImages(id === undefined ? undefined : getDrive(id, snapshot), snapshot);
}

function getDrive(id: string, snapshot: Snapshot): DriveRecord {
  const drive = snapshot.find('drive', id);
  if (drive) return drive;
  throw notRecorded('drive', id, snapshot);
}

/** Two files that are alike by themselves prove something; one file, by whatever names, does not. */
function refuseOneFileTwice(paths: readonly (string | undefined)[], terminal: Terminal): void {
  const seen = new Set<string>();
  for (const path of paths) {
    if (path === undefined) continue;
    const real = realpathSync(resolve(terminal.cwd, path));
    if (seen.has(real)) throw new UsageError(isOneRead(shownPath(real, terminal)), 'Read the chip once more.');
    seen.add(real);
  }
}

function readImage(path: string, terminal: Terminal): RomImage {
  const shown = shownPath(resolve(terminal.cwd, path), terminal);
  const file = readBoundedFile(resolve(terminal.cwd, path), mostImageBytes);
  if ('reason' in file) throw new UsageError(`${shown} cannot be read: ${file.reason}.`);
  if ('size' in file) {
    throw new UsageError(
      tooLargeForRom(shown, file.size),
      'A drive is compared with other programs; this command takes what was read from the chip on its board.',
    );
  }
  return { name: shown, bytes: file.bytes, sha256: createHash('sha256').update(file.bytes).digest('hex') };
}
