import { delimiter, isAbsolute, join } from 'node:path';
import { isProgram } from './is-program.ts';

/** A program that prints what it knows of a drive, with options that only read. The drive's node follows the options. */
export interface DriveUtility {
  readonly name: string;
  readonly options: readonly string[];
  /** What it does to the drive, as it follows the name. */
  readonly does: string;
  /** Whether it asks the drive. What goes by udev's record does so only where udev has none. */
  readonly asks: 'always' | 'unless udev knows';
  readonly needsRoot?: true;
}

/** Every program that is ever run, with the only options it is ever run with. */
export const driveUtilities: readonly DriveUtility[] = [
  {
    name: 'lsblk',
    // Named columns, and not all: these hold nothing of file systems, whose names belong to the customer.
    options: [
      '--json',
      '--bytes',
      '--nodeps',
      '--output',
      'NAME,TYPE,SIZE,VENDOR,MODEL,REV,SERIAL,WWN,TRAN,ROTA,LOG-SEC,PHY-SEC',
    ],
    does: 'goes by what udev kept from when the drive was connected; where udev kept nothing, it may read the first sectors',
    asks: 'unless udev knows',
  },
  {
    name: 'hdparm',
    options: ['--Istdout'],
    does: 'sends IDENTIFY DEVICE, which the drive answers from its memory',
    asks: 'always',
    needsRoot: true,
  },
  {
    name: 'smartctl',
    // Neither logs nor self-tests: these lie on the platters. `standby` leaves a drive alone that has stopped.
    options: ['--json', '--info', '--attributes', '--nocheck=standby'],
    does: 'sends commands that the drive answers from its memory, and spins up no drive that has stopped',
    asks: 'always',
  },
];

/** Folders of programs for administrators, which other users' searches leave out. */
const systemFolders = ['usr/sbin', 'sbin'];

/** Where a program lies: in the folders of `path`, then in those of the system whose tree begins at `root`; undefined where it is not installed. */
export function findUtility(
  name: string,
  { root, path }: { readonly root: string; readonly path: string },
): string | undefined {
  const folders = [...path.split(delimiter).filter(isAbsolute), ...systemFolders.map((folder) => join(root, folder))];
  return folders.map((folder) => join(folder, name)).find(isProgram);
}
