import type { FamilyIdentityData, IdentityValue } from '../../../../schemas/gen/records.ts';
import { formatDate } from '../terms/calendar.ts';
import { isFullSerial } from '../terms/same-serial.ts';
import { inARow } from '../text/in-a-row.ts';
import {
  type Assembly,
  type CaptureRole,
  captureColumns,
  captureName,
  type Half,
  reportIn,
  type TracedCapture,
  type TracedCaptures,
} from './assembly.ts';
import type { CaptureProblem } from './decoded.ts';
import { isSameReport, mostHoursBetween } from './follows.ts';

/** What captures show that are not of the drives and assemblies they are given for. Messages hold no serial number. */
export function pairingProblems(
  captures: TracedCaptures,
  assemblies: readonly Assembly[],
  { identity }: { readonly identity?: FamilyIdentityData | undefined },
): readonly CaptureProblem[] {
  const errors = [...oneDrive(captures), ...assemblies.flatMap(ofAssembly)];
  return [
    ...errors,
    ...(errors.length === 0 ? assemblies.flatMap((assembly) => outOfPlace(assembly, identity)) : []),
    ...bridges(captures),
    ...sectorSizes(captures),
  ];
}

function error(message: string): CaptureProblem {
  return { severity: 'error', message };
}

function warning(message: string): CaptureProblem {
  return { severity: 'warning', message };
}

/** Values that no two drives share. */
const ownNames = ['serial', 'wwn'] as const;

function oneDrive({ patientBefore, donorBefore }: TracedCaptures): CaptureProblem[] {
  if (!patientBefore || !donorBefore) return [];
  const same = ownNames.filter((value) => isSame(value, patientBefore, donorBefore) === true);
  if (same.length === 0) return [];
  const others = ([...ownNames, 'model', 'capacity'] as const).filter(
    (value) => isSame(value, patientBefore, donorBefore) === false,
  );
  // A masked tail alone is shared by one drive in many.
  const isCertain = same.some((value) => isProof(value, patientBefore) && isProof(value, donorBefore));
  const both = '`patient_before` and `donor_before`';
  if (others.length > 0) {
    if (!isCertain) return [];
    return [
      warning(
        `${both} report the same ${inARow(same)} and different ${inARow(others)}; a bridge may have answered for one of them.`,
      ),
    ];
  }
  if (!isCertain) {
    return [warning(`${both} may be of one drive: their serial numbers end alike, and nothing else tells them apart.`)];
  }
  return [error(`${both} are of one drive, or one bridge answered for both: ${inARow(same)} is the same in both.`)];
}

/** Whether equal reports of this value can only come from one drive. */
function isProof(value: (typeof ownNames)[number], capture: TracedCapture): boolean {
  const report = String(reportIn(value, capture));
  return isFullSerial(report) || report.startsWith('digest:');
}

function isSame(value: IdentityValue, a: TracedCapture | undefined, b: TracedCapture | undefined): boolean | undefined {
  return isSameReport(value, reportIn(value, a), reportIn(value, b));
}

function ofAssembly(assembly: Assembly): CaptureProblem[] {
  const wrong = [...outOfOrder(assembly), ...fitsNeither(assembly)];
  return wrong.length > 0 ? wrong : hoursThatCannotBe(assembly);
}

function outOfOrder({ role, capture, platters, board }: Assembly): CaptureProblem[] {
  const { taken } = capture;
  if (taken === undefined) return [];
  const later = [platters, board].filter((half) => (half.capture?.taken ?? taken) > taken);
  return later.map((half) =>
    error(
      `${captureName(role)} was taken on ${formatDate(taken)}, earlier than ${captureName(half.role)} of ${formatDate(half.capture?.taken ?? taken)}; the two may be exchanged.`,
    ),
  );
}

/** Values that show which drive an assembly is made of. */
const witnesses = [...ownNames, 'power_on_hours'] as const;

function fitsNeither({ role, capture, follows }: Assembly): CaptureProblem[] {
  const known = witnesses.filter((value) => follows[value] !== 'not_known');
  const isStranger = known.every((value) => follows[value] === 'neither');
  if (!isStranger || !ownNames.some((value) => follows[value] === 'neither')) return [];
  const bridge = capture.values.transport === 'usb' ? ', or a USB bridge answered in its own name' : '';
  const verb = known.length === 1 ? 'is' : 'are';
  return [
    error(
      `${captureName(role)} fits neither drive: its ${inARow(known)} ${verb} not what \`patient_before\` or \`donor_before\` reports. It is of another assembly${bridge}.`,
    ),
  ];
}

/** Hours that fit neither drive, held against those of the drive whose name the assembly bears. */
function hoursThatCannotBe(assembly: Assembly): CaptureProblem[] {
  const { role, capture, platters, board, follows } = assembly;
  const hours = capture.values.powerOnHours;
  const followed = follows.power_on_hours;
  if (hours === undefined || (followed !== 'neither' && followed !== 'not_known')) return [];
  const [bearer, ...others] = [platters, board].filter((half) => bearsNameOf(capture, half));
  const before = bearer?.capture?.values.powerOnHours;
  if (bearer && others.length === 0 && before !== undefined && hours < before) {
    const said = `${captureName(role)} has \`${hours}\` hours, fewer than the \`${before}\` of ${captureName(bearer.role)}, whose name it bears; the two may be exchanged`;
    return [followed === 'neither' ? error(`${said}.`) : warning(`${said}, or the hours are the other drive's.`)];
  }
  return followed === 'neither' ? hoursOfNeither(assembly, hours) : [];
}

function hoursOfNeither(assembly: Assembly, hours: number): CaptureProblem[] {
  const { role, platters, board } = assembly;
  const counts = [platters, board].map((half) => half.capture?.values.powerOnHours ?? 0);
  const before = `\`${counts.join('` and `')}\``;
  const said = `${captureName(role)} has \`${hours}\` hours`;
  if (hours < Math.min(...counts)) {
    return [
      error(`${said}, fewer than either drive before (${before}); a capture of before may be given for one of after.`),
    ];
  }
  return [
    warning(`${said}, which neither drive can have come to: before they had ${before}, and ${timeBetween(assembly)}.`),
  ];
}

/** How many hours may lie between the captures, as the end of a sentence. */
function timeBetween({ platters, board }: Assembly): string {
  const hours = [platters, board].flatMap(({ hoursSince }) => hoursSince ?? []);
  return hours.length === 2
    ? `by the dates of the captures no more than \`${Math.max(...hours)}\` can lie between`
    : `a trial takes no more than \`${mostHoursBetween}\``;
}

function bearsNameOf(capture: TracedCapture, half: Half): boolean {
  return ownNames.some((value) => isSame(value, capture, half.capture) === true);
}

/** Values kept where the disks are wherever nobody recorded otherwise. Source: common practice, no source. */
const usual: FamilyIdentityData = { capacity: 'platters', power_on_hours: 'platters' };

/** Every value that can show it follows the wrong half: then the drives were exchanged, not all the values. */
function outOfPlace({ role, follows }: Assembly, identity: FamilyIdentityData = {}): CaptureProblem[] {
  const expected = { ...usual, ...identity };
  const seen = (Object.keys(follows) as IdentityValue[]).filter(
    (value) => isHalf(follows[value]) && isHalf(expected[value]),
  );
  if (seen.some((value) => follows[value] === expected[value])) return [];
  // Its ROM may have gone along with the platters.
  if (seen.every((value) => follows[value] === 'platters')) return [];
  return [
    warning(
      `${inARow(seen)} in ${captureName(role)} followed the other half than expected: \`patient_before\` and \`donor_before\` may be exchanged, or \`after\` and \`other_after\`, or this may be one drive as it was before.`,
    ),
  ];
}

function isHalf(follows: string | undefined): boolean {
  return follows === 'platters' || follows === 'board';
}

function given(captures: TracedCaptures): { readonly role: CaptureRole; readonly capture: TracedCapture }[] {
  return captureColumns.flatMap(({ role }) => {
    const capture = captures[role];
    return capture ? [{ role, capture }] : [];
  });
}

/** A drive that is seen through USB once and otherwise another time was seen through a bridge. */
function bridges(captures: TracedCaptures): CaptureProblem[] {
  const seen = given(captures).filter(({ capture }) => capture.values.transport !== undefined);
  const throughUsb = seen.filter(({ capture }) => capture.values.transport === 'usb');
  if (throughUsb.length === 0 || throughUsb.length === seen.length) return [];
  const names = throughUsb.map(({ role }) => captureName(role)).join(' and ');
  return [
    warning(
      `${names} came through a USB bridge, which may have answered with a serial number, a name or a capacity of its own.`,
    ),
  ];
}

function sectorSizes(captures: TracedCaptures): CaptureProblem[] {
  const sized = given(captures).filter(({ capture }) => capture.values.logicalSectorBytes !== undefined);
  if (new Set(sized.map(({ capture }) => capture.values.logicalSectorBytes)).size < 2) return [];
  const sizes = sized.map(({ role, capture }) => `${captureName(role)} \`${capture.values.logicalSectorBytes}\``);
  return [warning(`Sectors are of different sizes, in bytes: ${sizes.join(', ')}. Capacities were compared in bytes.`)];
}
