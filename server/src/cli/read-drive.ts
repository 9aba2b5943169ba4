import type { ReadSource } from '../core/captures/capture-file.ts';
import { decode } from '../core/captures/decode.ts';
import { decodeSysfs } from '../core/captures/decode-sysfs.ts';
import type { CaptureProblem, Decoded } from '../core/captures/decoded.ts';
import { singleSpaced } from '../core/text/single-spaced.ts';
import { visible } from '../core/text/visible.ts';
import type { DriveSystem } from '../host/disk/drive-system.ts';
import { type DriveUtility, driveUtilities, findUtility } from '../host/disk/drive-utilities.ts';
import { isKnownToUdev } from '../host/disk/is-known-to-udev.ts';
import { readSysfs } from '../host/disk/read-sysfs.ts';
import { runUtility, type UtilityRun } from '../host/disk/run-utility.ts';

/** A program that may be asked about a drive: where it lies, or why it is not run. */
export interface PlannedUtility {
  readonly utility: DriveUtility;
  readonly program: string | undefined;
  /** Follows "not run:"; absent where it is run. */
  readonly because?: string;
}

/** Which programs are run for a drive. Without `mayAsk`, none that would ask the drive anything. */
export function planUtilities(system: DriveSystem, drive: string, mayAsk: boolean): readonly PlannedUtility[] {
  return driveUtilities.map((utility) => {
    const program = findUtility(utility.name, system);
    const isQuiet = utility.asks === 'unless udev knows' && isKnownToUdev(system.root, drive);
    if (program === undefined) return { utility, program, because: 'it is not installed' };
    if (!isQuiet && !mayAsk)
      return { utility, program, because: 'it may ask the drive, which only --ask-drive allows' };
    if (utility.needsRoot && !system.isRoot) return { utility, program, because: 'only root can' };
    return { utility, program };
  });
}

/** Reads what the kernel kept of a drive, then runs what was planned, one program after the other, until one gets no answer. */
export async function readDrive(
  system: DriveSystem,
  drive: string,
  planned: readonly PlannedUtility[],
): Promise<readonly ReadSource[]> {
  const sources = sysfsSources(system.root, drive);
  for (const { utility, program, because } of planned) {
    if (program === undefined || because !== undefined) continue;
    const run = await runUtility(program, [...utility.options, `/dev/${drive}`], system.patienceMs);
    sources.push(utilitySource(utility, run));
    // A drive that gives no answer is not asked on: every further command keeps it trying.
    if (run.trouble !== undefined) break;
  }
  return sources;
}

function sysfsSources(root: string, drive: string): ReadSource[] {
  const { files, unreadable } = readSysfs(root, drive);
  const read = Array.from(files, ([name, bytes]) => ({
    name,
    bytes,
    decoded: decodeSysfs(files, name) ?? decode(bytes),
  }));
  const others = unreadable.map(({ name, reason }) => {
    const message = `The kernel does not let it be read: ${reason}.`;
    return {
      name,
      bytes: new Uint8Array(),
      decoded: { ...nothing, problems: [{ severity: 'warning' as const, message }] },
    };
  });
  return [...read, ...others];
}

const nothing: Decoded = { format: undefined, values: {}, problems: [], unnamed: [] };

function utilitySource(utility: DriveUtility, run: UtilityRun): ReadSource {
  const decoded = run.stdout.length === 0 ? nothing : decode(run.stdout);
  // smartctl's output holds its exit status, and the decoder knows what that means.
  const isSaid = decoded.format === 'smartctl_json';
  const problems = [...complaints(isSaid ? { ...run, status: 0 } : run), ...decoded.problems];
  return {
    name: [utility.name, ...utility.options].join(' '),
    bytes: run.stdout,
    decoded: { ...decoded, problems },
  };
}

/** Characters of what a program complains about that are kept. */
const mostComplaint = 300;

/** How a program ended and what it complained about, where it did. */
function complaints(run: UtilityRun): readonly CaptureProblem[] {
  const said: string[] = [];
  if (run.trouble !== undefined) said.push(`It ${run.trouble}, and no other program was run after it.`);
  if (run.status !== undefined && run.status !== 0) said.push(`It ended with status ${run.status}.`);
  else if (run.status === 0 && run.stdout.length === 0) said.push('It printed nothing.');
  const stderr = visible(singleSpaced(run.stderr)).slice(0, mostComplaint);
  if (stderr !== '') said.push(`It says: ${stderr}`);
  return said.map((message) => ({ severity: 'warning', message }));
}
