import type { DriveSystem } from '../host/disk/drive-system.ts';
import type { LibraryFormats } from '../host/disk/export-files.ts';
import type { SerialKey } from '../host/disk/find-serial-key.ts';
import type { GitProgram } from '../host/git/find-git.ts';
import type { Terminal } from './terminal.ts';

/** What the built program knows of itself. */
export interface Program {
  readonly version: string;
  /** Folder for what this very build remembers between runs; undefined where nothing is remembered. */
  readonly cacheFolder?: string | undefined;
  /** Folder for what is begun and not finished; undefined where nothing is kept. */
  readonly stateFolder?: string | undefined;
  /** What further threads run to load files; undefined where there are none. */
  readonly loader?: string | undefined;
  /** Where drives are found; undefined on systems that do not show them as Linux does. */
  readonly drives?: DriveSystem | undefined;
  /** Looks for the user's key for digests of serial numbers. */
  readonly findSerialKey?: () => SerialKey;
  /** Looks for the program that reads repositories; undefined where it is not installed. */
  readonly findGit?: () => GitProgram | undefined;
  /** Loads the formats of `export` that need libraries of their own. */
  readonly loadFormats?: () => LibraryFormats;
  /** Starts the language server; the process goes on until its client ends it. */
  readonly serveOverStdio?: () => void;
}

/** An option of a command. `value` names what it takes; without one it is a switch. */
export interface Option {
  readonly name: string;
  readonly value?: string;
  /** May be given several times; its value is then a list. */
  readonly repeatable?: true;
  readonly describe: string;
}

/** What was typed after a command's name, checked against its table entry. */
export interface Arguments {
  readonly positionals: readonly string[];
  readonly values: Readonly<Record<string, string | boolean | readonly string[] | undefined>>;
}

/** A command: help, argument check and usage errors are made from this entry. */
export interface Command {
  readonly name: string;
  /** What may follow the name, such as `[folder…]`. */
  readonly takes: string;
  readonly positionals: { readonly min: number; readonly max: number };
  readonly describe: string;
  readonly options: readonly Option[];
  /** Runs it and gives the exit code. Throws `UsageError` where it cannot run. */
  readonly run: (args: Arguments, terminal: Terminal, program: Program) => Promise<number> | number;
}

/** The folder option of every command that reads one base. */
export const folderOption: Option = {
  name: 'folder',
  value: 'DIR',
  describe: 'The base to read (default: the nearest swaplore.yaml upward, else the only one below).',
};

/** The option of every command whose findings depend on the date. */
export const todayOption: Option = {
  name: 'today',
  value: 'DATE',
  describe: "Take this date, such as 2026-03-14, for today (default: the system's).",
};

/** The option of every command that reads a base. */
export const noCacheOption: Option = {
  name: 'no-cache',
  describe: 'Neither use nor keep what earlier runs have found out.',
};

/** The option of every command that prints data. */
export const jsonOption: Option = { name: 'json', describe: 'Print data instead of text.' };
