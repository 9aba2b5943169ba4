import { relative, resolve, sep } from 'node:path';
import type { Check } from '../core/checks/define-check.ts';
import type { Finding } from '../core/checks/finding.ts';
import { type ResolvedFinding, resolveFindings } from '../core/checks/resolve-findings.ts';
import { findingsOf, runChecks } from '../core/checks/run-checks.ts';
import type { Snapshot } from '../core/index/snapshot.ts';
import { readText } from '../core/syntax/read-text.ts';
import type { Tape } from '../core/syntax/tape.ts';
import type { Day } from '../core/terms/calendar.ts';
import { drained } from '../core/terms/drained.ts';
import { decodeText } from '../core/text/decode.ts';
import { BaseCache } from '../host/disk/base-cache.ts';
import { DiskBase } from '../host/disk/disk-base.ts';
import { DiskHost } from '../host/disk/disk-host.ts';
import { findBaseAbove, findBasesBelow, whyClosed } from '../host/disk/find-bases.ts';
import type { Arguments, Program } from './command.ts';
import { UsageError } from './exit-codes.ts';
import type { Terminal } from './terminal.ts';

/** A base on disk, loaded. */
export interface OpenBase {
  /** Absolute folder of its config. */
  readonly root: string;
  readonly snapshot: Snapshot;
}

/** Where a command may keep what it finds out. */
export interface Memory {
  readonly program: Program;
  readonly isForgetful: boolean;
}

/** Whether the command line asks that nothing be remembered. */
export function memoryOf(args: Arguments, program: Program): Memory {
  return { program, isForgetful: args.values['no-cache'] === true };
}

/** A base of which is known what files it has, with what is remembered of it. */
export interface Surveyed {
  /** Absolute folder of its config. */
  readonly root: string;
  readonly base: DiskBase;
  readonly cache: BaseCache | undefined;
}

/** Looks what lies in the base in this folder, with what is remembered of it. */
export async function surveyBase(
  root: string,
  terminal: Terminal,
  { program: { cacheFolder, loader }, isForgetful }: Memory,
): Promise<Surveyed> {
  await refuseClosed(root, terminal);
  const cache = cacheFolder === undefined || isForgetful ? undefined : BaseCache.of(root, cacheFolder);
  return { root, base: await DiskBase.survey(root, { cache, loader }), cache };
}

/** The one base a command works on: that of `--folder`, or the nearest upward, or the only one below the working folder. */
export async function openOneBase(args: Arguments, terminal: Terminal, program: Program): Promise<OpenBase> {
  return openBaseAt(await findTheBase(args, terminal), terminal, memoryOf(args, program));
}

/** The same, its files only looked at. */
export async function surveyOneBase(args: Arguments, terminal: Terminal, program: Program): Promise<Surveyed> {
  return surveyUsable(await findTheBase(args, terminal), terminal, memoryOf(args, program));
}

async function findTheBase(args: Arguments, terminal: Terminal): Promise<string> {
  const folder = folderOf(args, terminal);
  const root = await findOneBase(folder, terminal);
  if (root === undefined) throw noBase(folder, terminal);
  return root;
}

/** The folder that `--folder` names, else the working folder. */
export function folderOf(args: Arguments, terminal: Terminal): string {
  return typeof args.values['folder'] === 'string' ? resolve(terminal.cwd, args.values['folder']) : terminal.cwd;
}

/** The folder of the nearest base at or above a folder, or of the only one below; undefined where there is none. */
export async function findOneBase(folder: string, terminal: Terminal): Promise<string | undefined> {
  await refuseClosed(folder, terminal);
  const above = await findBaseAbove(folder);
  const [first, ...others] = above === undefined ? await findBasesBelow(folder) : [above];
  if (first === undefined || others.length === 0) return first;
  const names = [first, ...others].map((root) => shownPath(root, terminal)).join(', ');
  throw new UsageError(`There are several bases here: ${names}.`, 'Name one with --folder.');
}

/** The base in a folder, loaded; one whose config cannot be used is refused. */
export async function openBaseAt(root: string, terminal: Terminal, memory: Memory): Promise<OpenBase> {
  const { base } = await surveyUsable(root, terminal, memory);
  return { root, snapshot: await base.snapshot() };
}

async function surveyUsable(root: string, terminal: Terminal, memory: Memory): Promise<Surveyed> {
  const surveyed = await surveyBase(root, terminal, memory);
  if (surveyed.base.configFile.reading.isUsable) return surveyed;
  throw new UsageError(
    `The base ${shownPath(root, terminal)} has a config that cannot be used.`,
    'swaplore lint says why.',
  );
}

/** The bases in and around a folder: the nearest at or above it, and all those below it. */
export async function findBases(folder: string, terminal: Terminal): Promise<readonly string[]> {
  await refuseClosed(folder, terminal);
  const above = await findBaseAbove(folder);
  const below = await findBasesBelow(folder);
  return above === undefined ? below : [above, ...below];
}

async function refuseClosed(folder: string, terminal: Terminal): Promise<void> {
  const reason = await whyClosed(folder);
  if (reason !== undefined)
    throw new UsageError(`The folder ${shownPath(folder, terminal)} cannot be read: ${reason}.`);
}

/** What to say where a folder holds no base. */
export function noBase(folder: string, terminal: Terminal): UsageError {
  const shown = shownPath(folder, terminal);
  return new UsageError(
    `There is no swaplore.yaml in, above or below ${shown === '.' ? 'this folder' : shown}.`,
    'A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".',
  );
}

/** A path as output shows it: relative to the working folder, with `/`. */
export function shownPath(path: string, terminal: Terminal): string {
  return relative(terminal.cwd, path).split(sep).join('/') || '.';
}

/** The path of a file of a base as output shows it; `root` is the base's own shown path. */
export function shownFile(root: string, file: string): string {
  return root === '.' ? file : `${root}/${file}`;
}

/** The findings of some checks, else of all. */
export function runToEnd(snapshot: Snapshot, today: Day, checks?: readonly Check[]): Finding[] {
  return findingsOf(drained(runChecks(snapshot, { today, checks })));
}

/** Findings with their places, read again from the files. A file that changed in the meantime stops the run. */
export async function locate(root: string, findings: readonly Finding[]): Promise<ResolvedFinding[]> {
  return resolveFindings(findings, await tapesOf(root, findings));
}

/** The tapes of the files that findings have places in. A file that changed in the meantime stops the run. */
export function tapesOf(root: string, findings: readonly Finding[]): Promise<Map<string, Tape>> {
  const places = findings.flatMap((finding) => [finding.place, ...finding.related.map(({ place }) => place)]);
  return readTapes(root, new Map(places.map((place) => [place.file, place.contentId])));
}

/** The tapes of files of a base that are text, whose content ids are given by path. A file that changed since stops the run. */
export async function readTapes(root: string, expected: ReadonlyMap<string, string>): Promise<Map<string, Tape>> {
  // A file without a content id could not be read before; to try again might wait for a pipe or follow a link out of the base.
  const paths = [...expected.keys()].filter((path) => expected.get(path) !== '');
  const tapes = new Map<string, Tape>();
  for (const [position, file] of (await new DiskHost(root).readMany(paths)).entries()) {
    const path = paths[position] ?? '';
    if (!('bytes' in file)) continue;
    if (expected.get(path) !== file.contentId) {
      throw new UsageError(`${path} changed while it was being checked.`, 'Run the command again.');
    }
    const decoded = decodeText(file.bytes);
    if ('text' in decoded) tapes.set(path, readText(decoded.text).tape);
  }
  return tapes;
}
