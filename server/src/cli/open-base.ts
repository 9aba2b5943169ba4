import { relative, resolve, sep } from 'node:path';
import type { Check } from '../core/checks/define-check.ts';
import type { Finding } from '../core/checks/finding.ts';
import { filesOf, type ResolvedFinding, resolveFindings } from '../core/checks/resolve-findings.ts';
import { runChecks } from '../core/checks/run-checks.ts';
import type { Snapshot } from '../core/index/snapshot.ts';
import { readWithYaml } from '../core/syntax/read-with-yaml.ts';
import type { Tape } from '../core/syntax/tape.ts';
import type { Day } from '../core/terms/calendar.ts';
import { decodeText } from '../core/text/decode.ts';
import { DiskHost } from '../host/disk.ts';
import { findBaseAbove, findBasesBelow } from '../host/find-bases.ts';
import type { Host } from '../host/host.ts';
import { loadBase } from '../host/load-base.ts';
import type { Arguments } from './command.ts';
import { UsageError } from './exit-codes.ts';
import type { Terminal } from './terminal.ts';

/** A base on disk, loaded. */
export interface OpenBase {
  /** Absolute folder of its config. */
  readonly root: string;
  readonly host: Host;
  readonly snapshot: Snapshot;
}

/** Loads the base in this folder. */
export async function openBase(root: string, host: Host = new DiskHost(root)): Promise<OpenBase> {
  return { root, host, snapshot: await loadBase(host) };
}

/** The one base a command works on: that of `--folder`, or the nearest upward, or the only one below the working folder. */
export async function openOneBase(args: Arguments, terminal: Terminal): Promise<OpenBase> {
  const folder =
    typeof args.values['folder'] === 'string' ? resolve(terminal.cwd, args.values['folder']) : terminal.cwd;
  const [first, ...others] = await findBases(folder);
  if (first === undefined) throw noBase(folder, terminal);
  if (others.length > 0) {
    const names = [first, ...others].map((root) => shownPath(root, terminal)).join(', ');
    throw new UsageError(`There are several bases here: ${names}.`, 'Name one with --folder.');
  }
  const base = await openBase(first);
  if (!base.snapshot.configFile.reading.isUsable) {
    throw new UsageError(
      `The base ${shownPath(first, terminal)} has a config that cannot be used.`,
      'swaplore lint says why.',
    );
  }
  return base;
}

/** The nearest base at or above a folder, else all those below it. */
export async function findBases(folder: string): Promise<readonly string[]> {
  const above = await findBaseAbove(folder);
  return above === undefined ? findBasesBelow(folder) : [above];
}

/** What to say where a folder holds no base. */
export function noBase(folder: string, terminal: Terminal): UsageError {
  return new UsageError(
    `There is no swaplore.yaml in, above or below ${shownPath(folder, terminal)}.`,
    'A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".',
  );
}

/** A path as output shows it: relative to the working folder, with `/`. */
export function shownPath(path: string, terminal: Terminal): string {
  return relative(terminal.cwd, path).split(sep).join('/') || '.';
}

/** Runs checks to the end; a terminal has nobody to yield to. */
export function findingsOf(snapshot: Snapshot, today: Day, checks?: readonly Check[]): Finding[] {
  const run = runChecks(snapshot, today, checks);
  for (let step = run.next(); ; step = run.next()) {
    if (step.done) return step.value;
  }
}

/** Findings with their places, read again from the files. A file that changed in the meantime stops the run. */
export async function locate(base: OpenBase, findings: readonly Finding[]): Promise<ResolvedFinding[]> {
  const paths = [...filesOf(findings)];
  const expected = new Map(
    findings
      .flatMap((finding) => [finding.place, ...finding.related.map(({ place }) => place)])
      .map((place) => [place.file, place.contentId]),
  );
  const tapes = new Map<string, Tape>();
  for (const [position, file] of (await base.host.readMany(paths)).entries()) {
    const path = paths[position] ?? '';
    if (!('bytes' in file)) continue;
    if (expected.get(path) !== file.contentId && expected.get(path) !== '') {
      throw new UsageError(`${path} changed while it was being checked.`, 'Run the command again.');
    }
    const decoded = decodeText(file.bytes);
    if ('text' in decoded) tapes.set(path, readWithYaml(decoded.text).tape);
  }
  return resolveFindings(findings, tapes);
}
