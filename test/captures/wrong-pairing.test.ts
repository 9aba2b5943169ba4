import { describe, expect, it } from 'vitest';
import type { FamilyIdentityData } from '../../schemas/gen/records.ts';
import { assembliesOf, type TracedCaptures } from '../../server/src/core/captures/assembly.ts';
import type { CaptureValues } from '../../server/src/core/captures/decoded.ts';
import { pairingProblems } from '../../server/src/core/captures/wrong-pairing.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { tracedDrives } from '../harness/traced-bench.ts';

const { patient, donor, after } = tracedDrives;

/** The captures that have these values, and nothing else. */
function of(values: Readonly<Partial<Record<keyof TracedCaptures, CaptureValues>>>): TracedCaptures {
  return Object.fromEntries(Object.entries(values).map(([role, one]) => [role, { values: one }]));
}

function saidOf(captures: TracedCaptures, identity?: FamilyIdentityData): readonly string[] {
  return pairingProblems(captures, assembliesOf(captures), { identity }).map(
    ({ severity, message }) => `${severity}: ${message}`,
  );
}

it('says nothing of the captures of one swap in their places, however many there are', () => {
  expect(saidOf({})).toEqual([]);
  expect(saidOf(of({ patientBefore: patient }))).toEqual([]);
  expect(saidOf(of({ donorBefore: patient }))).toEqual([]);
  expect(saidOf(of({ patientBefore: patient, donorBefore: donor }))).toEqual([]);
  expect(saidOf(of({ patientBefore: patient, donorBefore: donor, after }))).toEqual([]);
  const otherAfter = { ...donor, firmware: patient.firmware, powerOnHours: donor.powerOnHours + 1 };
  expect(saidOf(of({ patientBefore: patient, donorBefore: donor, after, otherAfter }))).toEqual([]);
});

describe('two drives before', () => {
  const both = '`patient_before` and `donor_before`';
  const endAlike = `warning: ${both} may be of one drive: their serial numbers end alike, and nothing else tells them apart.`;
  const one = (names: string): string =>
    `error: ${both} are of one drive, or one bridge answered for both: ${names} is the same in both.`;
  const different = (same: string, others: string): string =>
    `warning: ${both} report the same ${same} and different ${others}; a bridge may have answered for one of them.`;
  const { serial, wwn } = patient;
  const tail = '****4F2K';
  const digest = 'digest:00ff00ff00ff00ff';

  it.each<readonly [string, CaptureValues, CaptureValues, readonly string[]]>([
    ['that are one', patient, patient, [one('`serial` and `wwn`')]],
    ['of one number', { serial }, { serial }, [one('`serial`')]],
    ['of one number in other case', { serial }, { serial: serial.toLowerCase() }, [one('`serial`')]],
    ['of one name', { wwn }, { wwn }, [one('`wwn`')]],
    ['of one name and one tail', { wwn, serial: tail }, { wwn, serial: tail }, [one('`serial` and `wwn`')]],
    ['of one digest', { serial: digest }, { serial: digest }, [one('`serial`')]],
    ['of one tail', { serial: tail }, { serial: tail }, [endAlike]],
    ['of one tail, the first in full', { serial }, { serial: tail }, [endAlike]],
    ['of one tail, the second in full', { serial: tail }, { serial }, [endAlike]],
    ['of one tail and one model', { serial: tail, model: 'A' }, { serial: tail, model: 'A' }, [endAlike]],
    ['of one model alone', { model: 'A' }, { model: 'A' }, []],
    ['of which one says nothing', { serial }, {}, []],
    ['of one number and two names', { serial, wwn }, { serial, wwn: donor.wwn }, [different('`serial`', '`wwn`')]],
    ['of one name and two numbers', { serial, wwn }, { serial: donor.serial, wwn }, [different('`wwn`', '`serial`')]],
    [
      'of one number, two models and two capacities',
      { serial, model: 'A', lbaCount: 1000 },
      { serial, model: 'B', lbaCount: 2000 },
      [different('`serial`', '`model` and `capacity`')],
    ],
    [
      'of one digest and two models',
      { serial: digest, model: 'A' },
      { serial: digest, model: 'B' },
      [different('`serial`', '`model`')],
    ],
    ['of one tail and two models', { serial: tail, model: 'A' }, { serial: tail, model: 'B' }, []],
    ['of one tail and two models, the first in full', { serial, model: 'A' }, { serial: tail, model: 'B' }, []],
    ['of one tail and two models, the second in full', { serial: tail, model: 'A' }, { serial, model: 'B' }, []],
    [
      'of one number and two versions of firmware',
      { serial, firmware: '1' },
      { serial, firmware: '2' },
      [one('`serial`')],
    ],
  ])('%s', (_, patientBefore, donorBefore, said) => {
    expect(saidOf(of({ patientBefore, donorBefore }))).toEqual(said);
  });
});

describe('the days of captures', () => {
  const [first, second] = ['2026-03-14', '2026-03-15'].map((day) => parseDate(day));
  const taken = (values: CaptureValues, day: number | undefined) => ({ values, taken: day });

  it.each<readonly [string, number | undefined, number | undefined, number | undefined, readonly string[]]>([
    ['in order', first, first, second, []],
    ['all the same', first, first, first, []],
    ['that nobody wrote down for the assembly', second, second, undefined, []],
    ['that nobody wrote down for the drives', undefined, undefined, first, []],
    [
      'of a patient seen later',
      second,
      first,
      first,
      [
        'error: `after` was taken on 2026-03-14, earlier than `patient_before` of 2026-03-15; the two may be exchanged.',
      ],
    ],
    [
      'of a donor seen later',
      undefined,
      second,
      first,
      ['error: `after` was taken on 2026-03-14, earlier than `donor_before` of 2026-03-15; the two may be exchanged.'],
    ],
  ])('%s', (_, before, donors, assembled, said) => {
    const captures = {
      patientBefore: taken(patient, before),
      donorBefore: taken(donor, donors),
      after: taken(after, assembled),
    };
    expect(saidOf(captures)).toEqual(said);
  });

  it('of both drives seen later, each said for itself', () => {
    const captures = { patientBefore: taken(patient, second), donorBefore: taken(donor, second) };
    const assembled = taken({ ...donor, firmware: patient.firmware }, first);
    expect(saidOf({ ...captures, otherAfter: assembled })).toEqual([
      'error: `other_after` was taken on 2026-03-14, earlier than `donor_before` of 2026-03-15; the two may be exchanged.',
      'error: `other_after` was taken on 2026-03-14, earlier than `patient_before` of 2026-03-15; the two may be exchanged.',
    ]);
  });
});

describe('an assembly of neither drive', () => {
  const stranger = { serial: 'WRN0C7T3M', wwn: '5027ce1c00000001', powerOnHours: 90_000 };
  const none = (capture: string, what: string, bridge = ''): string =>
    `error: ${capture} fits neither drive: its ${what} not what \`patient_before\` or \`donor_before\` reports. It is of another assembly${bridge}.`;
  const before = { patientBefore: patient, donorBefore: donor };

  it.each<readonly [string, CaptureValues, readonly string[]]>([
    ['by all it says', stranger, [none('`after`', '`serial`, `wwn` and `power_on_hours` are')]],
    ['by its number alone', { serial: stranger.serial }, [none('`after`', '`serial` is')]],
    ['by its name alone', { wwn: stranger.wwn }, [none('`after`', '`wwn` is')]],
    [
      'through a USB bridge',
      { wwn: stranger.wwn, transport: 'usb' },
      [
        none('`after`', '`wwn` is', ', or a USB bridge answered in its own name'),
        'warning: `after` came through a USB bridge, which may have answered with a serial number, a name or a capacity of its own.',
      ],
    ],
    ['by its number, while its name fits', { serial: stranger.serial, wwn: patient.wwn }, []],
    ['by its name, while its number fits', { serial: donor.serial, wwn: stranger.wwn }, []],
    ['by its number, while its hours fit', { serial: stranger.serial, powerOnHours: 18_251 }, []],
    ['by its firmware, which decides nothing', { firmware: '9' }, []],
    [
      'by its hours, which say something else',
      { powerOnHours: 18_000 + 100_000 },
      [expect.stringContaining('`after` has')],
    ],
  ])('%s', (_, values, said) => {
    expect(saidOf(of({ ...before, after: values }))).toEqual(said);
  });

  it('may be either of the two', () => {
    const both = of({ ...before, after: stranger, otherAfter: { wwn: stranger.wwn } });
    expect(saidOf(both)).toEqual([
      none('`after`', '`serial`, `wwn` and `power_on_hours` are'),
      none('`other_after`', '`wwn` is'),
    ]);
  });
});

describe('hours that cannot be', () => {
  const hours = (powerOnHours: number | undefined, serial?: string, more: CaptureValues = {}): CaptureValues => ({
    ...(serial === undefined ? {} : { serial }),
    ...(powerOnHours === undefined ? {} : { powerOnHours }),
    ...more,
  });
  const [mine, theirs] = [patient.serial, donor.serial];
  const fewer = 'fewer than the `1000` of `patient_before`, whose name it bears; the two may be exchanged';

  it.each<readonly [string, CaptureValues, CaptureValues, CaptureValues, readonly string[]]>([
    [
      'fewer than those of the drive whose name it bears',
      hours(1000, mine),
      hours(9000, theirs),
      hours(999, mine),
      [`error: \`after\` has \`999\` hours, ${fewer}.`],
    ],
    [
      'fewer, while nobody knows the hours of the other drive',
      hours(1000, mine),
      hours(undefined, theirs),
      hours(999, mine),
      [`warning: \`after\` has \`999\` hours, ${fewer}, or the hours are the other drive's.`],
    ],
    [
      'fewer, while the hours of the other drive fit',
      hours(1000, mine),
      hours(900, theirs),
      hours(901, mine),
      [expect.stringMatching(/^warning: `power_on_hours` in `after` followed the other half/)],
    ],
    [
      'as many, while nobody knows those of the other drive',
      hours(1000, mine),
      hours(undefined, theirs),
      hours(1000, mine),
      [],
    ],
    [
      'more, while nobody knows those of the other drive',
      hours(1000, mine),
      hours(undefined, theirs),
      hours(9999, mine),
      [],
    ],
    ['those of a drive nobody knows them of', hours(undefined, mine), hours(9000, theirs), hours(5, mine), []],
    ['none', hours(1000, mine), hours(9000, theirs), hours(undefined, mine), []],
    [
      'fewer than either drive had, with no name',
      hours(1000, mine),
      hours(9000, theirs),
      hours(999),
      [
        'error: `after` has `999` hours, fewer than either drive before (`1000` and `9000`); a capture of before may be given for one of after.',
      ],
    ],
    [
      'more than a trial takes',
      hours(1000, mine),
      hours(9000, theirs),
      hours(5000, mine),
      [
        'warning: `after` has `5000` hours, which neither drive can have come to: before they had `1000` and `9000`, and a trial takes no more than `744`.',
      ],
    ],
    [
      'fewer than one drive had and more than a trial takes, with no name',
      hours(9000, mine),
      hours(1000, theirs),
      hours(5000),
      [
        'warning: `after` has `5000` hours, which neither drive can have come to: before they had `9000` and `1000`, and a trial takes no more than `744`.',
      ],
    ],
    [
      'fewer than those of one drive, with the names of both',
      hours(9000, '****4F2K', { wwn: patient.wwn }),
      hours(1000, '****9Q1C', { wwn: donor.wwn }),
      hours(5000, mine, { wwn: donor.wwn }),
      [
        'warning: `after` has `5000` hours, which neither drive can have come to: before they had `9000` and `1000`, and a trial takes no more than `744`.',
      ],
    ],
  ])('%s', (_, patientBefore, donorBefore, assembled, said) => {
    expect(saidOf(of({ patientBefore, donorBefore, after: assembled }))).toEqual(said);
  });

  it('are told with what the days of the captures allow', () => {
    const before = {
      patientBefore: { values: hours(1000, mine), taken: 100 },
      donorBefore: { values: hours(9000, theirs), taken: 101 },
    };
    const assembled = { values: hours(1200, mine), taken: 103 };
    expect(saidOf({ ...before, after: assembled })).toEqual([
      'warning: `after` has `1200` hours, which neither drive can have come to: before they had `1000` and `9000`, and by the dates of the captures no more than `96` can lie between.',
    ]);
    // Without one of the days, a month is allowed for that drive.
    const halfDated = { ...before, donorBefore: { values: hours(9000, theirs) }, after: assembled };
    expect(saidOf(halfDated)).toEqual([
      'warning: `after` has `1200` hours, which neither drive can have come to: before they had `1000` and `9000`, and a trial takes no more than `744`.',
    ]);
  });

  it('are not told where an error is', () => {
    const captures = of({
      patientBefore: hours(1000, mine),
      donorBefore: hours(9000, theirs),
      after: hours(999, 'WRN0C7T3M'),
    });
    expect(saidOf(captures)).toEqual([expect.stringContaining('`after` fits neither drive')]);
  });
});

describe('captures out of place', () => {
  const wrong = (values: string, capture = '`after`'): string =>
    `warning: ${values} in ${capture} followed the other half than expected: \`patient_before\` and \`donor_before\` may be exchanged, or \`after\` and \`other_after\`, or this may be one drive as it was before.`;
  const before = { patientBefore: patient, donorBefore: donor };

  it.each<readonly [string, CaptureValues, FamilyIdentityData | undefined, readonly string[]]>([
    [
      'by the hours, which are kept where the disks are',
      { powerOnHours: 21_481 },
      undefined,
      [wrong('`power_on_hours`')],
    ],
    ['by a value whose place the family knows', { firmware: '1.07' }, { firmware: 'platters' }, [wrong('`firmware`')]],
    [
      'by all of several values',
      { serial: donor.serial, powerOnHours: 21_481 },
      { serial: 'platters' },
      [wrong('`serial` and `power_on_hours`')],
    ],
    ['not by one of several values alone', { serial: donor.serial, powerOnHours: 18_251 }, { serial: 'platters' }, []],
    ['not by hours that the family keeps on the board', { powerOnHours: 21_481 }, { power_on_hours: 'board' }, []],
    ['not where the family keeps the value in both', { firmware: '1.07' }, { firmware: 'both' } as never, []],
    ['not where nobody knows its place', { firmware: '1.07' }, undefined, []],
    ['not where the value shows nothing', { model: patient.model }, { model: 'platters' }, []],
    ['not where all went with the platters, as a ROM may', { firmware: '1.02' }, { firmware: 'board' }, []],
    [
      'where some went with the platters and some with the board',
      { firmware: '1.02', powerOnHours: 21_481 },
      { firmware: 'board' },
      [wrong('`firmware` and `power_on_hours`')],
    ],
  ])('%s', (_, values, identity, said) => {
    expect(saidOf(of({ ...before, after: values }), identity)).toEqual(said);
  });

  it('are told for each assembly', () => {
    const otherAfter = { powerOnHours: 18_251 };
    expect(saidOf(of({ ...before, after: { powerOnHours: 21_481 }, otherAfter }))).toEqual([
      wrong('`power_on_hours`'),
      wrong('`power_on_hours`', '`other_after`'),
    ]);
  });

  it('are not told where an error is', () => {
    const otherAfter = { serial: 'WRN0C7T3M' };
    expect(saidOf(of({ ...before, after: { powerOnHours: 21_481 }, otherAfter }))).toEqual([
      expect.stringMatching(/^error: `other_after` fits neither drive/),
    ]);
  });
});

describe('a bridge', () => {
  const through = (...transports: readonly (string | undefined)[]): TracedCaptures => {
    const [patientBefore, donorBefore, assembled, otherAfter] = transports.map((transport) => ({
      values: transport === undefined ? {} : { transport },
    }));
    return { patientBefore, donorBefore, after: assembled, otherAfter };
  };
  const bridge = (names: string): string =>
    `warning: ${names} came through a USB bridge, which may have answered with a serial number, a name or a capacity of its own.`;

  it.each<readonly [string, TracedCaptures, readonly string[]]>([
    [
      'is seen where one capture came through USB',
      through('usb', 'sata', 'sata', undefined),
      [bridge('`patient_before`')],
    ],
    ['is seen where several did', through('sata', 'usb', 'usb', 'sas'), [bridge('`donor_before` and `after`')]],
    ['is not seen where all did', through('usb', 'usb', 'usb', 'usb'), []],
    ['is not seen where the others say nothing', through('usb', undefined, 'usb', undefined), []],
    ['is not seen where none did', through('sata', 'sata', 'pata', undefined), []],
    ['is not seen where nobody says', through(undefined, undefined), []],
  ])('%s', (_, captures, said) => {
    expect(saidOf(captures)).toEqual(said);
  });
});

it.each<readonly [string, TracedCaptures, readonly string[]]>([
  ['the same', of({ patientBefore: { logicalSectorBytes: 512 }, after: { logicalSectorBytes: 512 } }), []],
  ['known of one alone', of({ patientBefore: { logicalSectorBytes: 512 }, after: {} }), []],
  [
    'different',
    of({
      patientBefore: { logicalSectorBytes: 512 },
      donorBefore: { logicalSectorBytes: 4096 },
      after: {},
      otherAfter: { logicalSectorBytes: 512 },
    }),
    [
      'warning: Sectors are of different sizes, in bytes: `patient_before` `512`, `donor_before` `4096`, `other_after` `512`. Capacities were compared in bytes.',
    ],
  ],
])('sizes of sectors that are %s', (_, captures, said) => {
  expect(saidOf(captures)).toEqual(said);
});
