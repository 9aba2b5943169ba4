import { describe, expect, it } from 'vitest';
import type { TracedCapture, TracedCaptures } from '../../server/src/core/captures/assembly.ts';
import type { CaptureValues } from '../../server/src/core/captures/decoded.ts';
import { traceOf } from '../../server/src/core/captures/trace.ts';
import { tracedDrives } from '../harness/traced-bench.ts';

const { patient, donor, after } = tracedDrives;
const before = { patientBefore: { values: patient }, donorBefore: { values: donor } };

it('gives every value as each capture reports it, with what it followed', () => {
  const otherAfter = { values: { firmware: '1.02', serial: donor.serial } };
  expect(traceOf({ ...before, after: { values: after }, otherAfter }, { serials: 'full' })).toStrictEqual({
    values: [
      {
        value: 'serial',
        patientBefore: 'WRN0A4F2K',
        donorBefore: 'WRN0B9Q1C',
        after: 'WRN0A4F2K',
        otherAfter: 'WRN0B9Q1C',
        follows: 'platters',
      },
      {
        value: 'wwn',
        patientBefore: '5027ce1b9d229a27',
        donorBefore: '5027ce1cbd868eb8',
        after: '5027ce1b9d229a27',
        follows: 'platters',
      },
      {
        value: 'model',
        patientBefore: 'TNS2-500',
        donorBefore: 'TNS2-500',
        after: 'TNS2-500',
        follows: 'same_on_both',
      },
      {
        value: 'firmware',
        patientBefore: '1.02',
        donorBefore: '1.07',
        after: '1.07',
        otherAfter: '1.02',
        follows: 'board',
      },
      {
        value: 'capacity',
        patientBefore: 976_773_168,
        donorBefore: 976_773_168,
        after: 976_773_168,
        follows: 'same_on_both',
      },
      {
        value: 'power_on_hours',
        patientBefore: 18_250,
        donorBefore: 21_480,
        after: 18_251,
        follows: 'platters',
      },
      { value: 'defect_counts', patientBefore: 4, donorBefore: 0, after: 4, follows: 'same_on_both' },
    ],
    problems: [],
  });
});

it('gives nothing where nothing is reported', () => {
  expect(traceOf({}, { serials: 'full' })).toStrictEqual({ values: [], problems: [] });
  expect(traceOf({ after: { values: {} } }, { serials: 'masked' })).toStrictEqual({ values: [], problems: [] });
});

it('gives values that were reported once, which follow nothing anybody knows', () => {
  expect(traceOf({ donorBefore: { values: { firmware: '1' } } }, { serials: 'masked' }).values).toStrictEqual([
    { value: 'firmware', donorBefore: '1', follows: 'not_known' },
  ]);
});

describe('serial numbers', () => {
  const captures: TracedCaptures = {
    patientBefore: {
      values: {
        serial: 'WRN0A4F2K',
        wwn: '5027ce1b9d229a27',
        model: 'TERN WRN0A4F2K',
        firmware: 'XY77Q1ZZ',
        rpm: 5400,
      },
      likelySerials: ['XY77Q1ZZ'],
      problems: [{ severity: 'warning', message: 'Of WRN0A4F2K and XY77Q1ZZ.' }],
    },
    after: { values: {}, likelySerials: ['QQ12WW34'], problems: [{ severity: 'error', message: 'QQ12WW34.' }] },
  };

  it.each([
    ['in full', 'full', 'WRN0A4F2K', 'WRN0A4F2K', 'XY77Q1ZZ', 'QQ12WW34'],
    ['masked', 'masked', '****4F2K', '****4F2K', '****Q1ZZ', '****WW34'],
    ['as a digest', { digestOf: (serial: string) => `digest:${serial.length}` }, 'digest:9', '****', '****', '****'],
  ] as const)('are shown %s, wherever they stand', (_, serials, shown, mine, likely, other) => {
    expect(traceOf(captures, { serials })).toStrictEqual({
      values: [
        { value: 'serial', patientBefore: shown, follows: 'not_known' },
        { value: 'wwn', patientBefore: '5027ce1b9d229a27', follows: 'not_known' },
        { value: 'model', patientBefore: `TERN ${mine}`, follows: 'not_known' },
        { value: 'firmware', patientBefore: likely, follows: 'not_known' },
      ],
      problems: [
        { severity: 'warning', message: `\`patient_before\`: Of ${mine} and ${likely}.` },
        { severity: 'error', message: `\`after\`: ${other}.` },
      ],
    });
  });

  it('are left alone in a world-wide name and in counts', () => {
    const given = { serial: '5027ce1b9d229a27', wwn: '5027ce1b9d229a27', powerOnHours: 5027 };
    expect(traceOf({ after: { values: given } }, { serials: 'masked' }).values).toStrictEqual([
      { value: 'serial', after: '****9a27', follows: 'not_known' },
      { value: 'wwn', after: '5027ce1b9d229a27', follows: 'not_known' },
      { value: 'power_on_hours', after: 5027, follows: 'not_known' },
    ]);
  });

  it('cover nothing where there are none', () => {
    const given = { values: { model: 'TERN' }, problems: [{ severity: 'error', message: 'Something.' }] } as const;
    expect(traceOf({ otherAfter: given }, { serials: 'masked' })).toStrictEqual({
      values: [{ value: 'model', otherAfter: 'TERN', follows: 'not_known' }],
      problems: [{ severity: 'error', message: '`other_after`: Something.' }],
    });
  });
});

/** A problem of either kind is told in this order: of the captures themselves, of their pairing, of what the assemblies tell. */
it('tells what is wrong in order', () => {
  const wrong = (values: CaptureValues): TracedCapture => ({
    values,
    problems: [{ severity: 'warning', message: 'Own.' }],
  });
  const { problems } = traceOf(
    {
      patientBefore: { values: { ...patient, transport: 'usb' } },
      donorBefore: wrong(donor),
      after: wrong(after),
      otherAfter: { values: { firmware: '1.07' } },
    },
    { serials: 'masked' },
  );
  expect(problems.map(({ message }) => message.slice(0, 45))).toEqual([
    '`donor_before`: Own.',
    '`after`: Own.',
    '`patient_before` came through a USB bridge, w',
    'The two assemblies do not agree: `firmware` f',
  ]);
});

it('asks the family where it keeps its values', () => {
  const captures = { ...before, after: { values: { firmware: '1.07' } } };
  expect(traceOf(captures, { serials: 'full' }).problems).toEqual([]);
  expect(traceOf(captures, { serials: 'full', identity: { firmware: 'platters' } }).problems).toHaveLength(1);
});

describe('two assemblies', () => {
  /** Firmware of the patient, of the donor, of `after` and of `other_after`, and what it follows with what is said of that. */
  const apart = (one: string, other: string): string =>
    `The two assemblies do not agree: \`firmware\` follows ${one} in \`after\` and ${other} in \`other_after\`. A board may repeat what it read last, or a capture may be of another assembly.`;

  it.each<readonly [string, readonly (string | undefined)[], string, readonly string[]]>([
    ['that agree on the platters', ['1', '2', '1', '2'], 'platters', []],
    ['that agree on the board', ['1', '2', '2', '1'], 'board', []],
    ['that agree on both', ['1', '1', '1', '1'], 'same_on_both', []],
    ['that agree on neither', ['1', '2', '3', '3'], 'neither', []],
    ['of which only the first reports it', ['1', '2', '1', undefined], 'platters', []],
    ['of which only the second reports it', ['1', '2', undefined, '1'], 'board', []],
    ['of which neither reports it', ['1', '2', undefined, undefined], 'not_known', []],
    ['without one of the drives', ['1', undefined, '1', '1'], 'not_known', []],
    ['of platters and board', ['1', '2', '1', '1'], 'not_known', [apart('the platters', 'the board')]],
    ['of board and platters', ['1', '2', '2', '2'], 'not_known', [apart('the board', 'the platters')]],
    ['of platters and neither', ['1', '2', '1', '3'], 'neither', [apart('the platters', 'neither')]],
    ['of neither and board', ['1', '2', '3', '1'], 'neither', [apart('neither', 'the board')]],
    ['of both and neither', ['1', '1', '1', '2'], 'neither', [apart('either', 'neither')]],
    ['of neither and both', ['1', '1', '2', '1'], 'neither', [apart('neither', 'either')]],
  ])('%s', (_, [patientHas, donorHas, afterHas, otherHas], follows, said) => {
    const having = (firmware: string | undefined) => ({ values: firmware === undefined ? {} : { firmware } });
    const { values, problems } = traceOf(
      {
        patientBefore: having(patientHas),
        donorBefore: having(donorHas),
        after: having(afterHas),
        otherAfter: having(otherHas),
      },
      { serials: 'full' },
    );
    expect(values.map((value) => value.follows)).toEqual([follows]);
    expect(problems).toEqual(said.map((message) => ({ severity: 'warning', message })));
  });

  // A counter may be close to both drives in one assembly and clear in the other.
  it.each([
    ['the second is clear', [100, 120, 130, 119], 'board'],
    ['the first is clear', [100, 120, 119, 130], 'platters'],
  ] as const)('of a counter of which %s', (_, [patientHas, donorHas, afterHas, otherHas], follows) => {
    const { values, problems } = traceOf(
      {
        patientBefore: { values: { powerOnHours: patientHas } },
        donorBefore: { values: { powerOnHours: donorHas } },
        after: { values: { powerOnHours: afterHas } },
        otherAfter: { values: { powerOnHours: otherHas } },
      },
      { serials: 'full', identity: { power_on_hours: follows } },
    );
    expect([values[0]?.follows, problems]).toEqual([follows, []]);
  });

  it('of which one cannot be told', () => {
    const sized = (lbaCount: number, logicalSectorBytes?: number) => ({
      values: { lbaCount, ...(logicalSectorBytes === undefined ? {} : { logicalSectorBytes }) },
    });
    const captures = { patientBefore: sized(8000, 512), donorBefore: sized(16_000, 512) };
    const assembled = { after: sized(8000, 512), otherAfter: sized(1000) };
    const { values, problems } = traceOf({ ...captures, ...assembled }, { serials: 'full' });
    expect([values[0]?.follows, problems]).toEqual(['not_known', []]);
    const turned = { after: sized(1000), otherAfter: sized(16_000, 512) };
    expect(traceOf({ ...captures, ...turned }, { serials: 'full' }).values[0]?.follows).toBe('not_known');
  });

  it('that do not agree about several values are told of once', () => {
    const having = (firmware: string, model: string) => ({ values: { firmware, model } });
    const { problems } = traceOf(
      {
        patientBefore: having('1', 'A'),
        donorBefore: having('2', 'B'),
        after: having('1', 'A'),
        otherAfter: having('1', 'C'),
      },
      { serials: 'full' },
    );
    expect(problems.map(({ message }) => message)).toEqual([
      'The two assemblies do not agree: `model` follows the platters in `after` and neither in `other_after`; `firmware` follows the platters in `after` and the board in `other_after`. A board may repeat what it read last, or a capture may be of another assembly.',
    ]);
  });
});
