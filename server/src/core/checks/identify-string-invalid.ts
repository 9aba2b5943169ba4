import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { isFullSerial } from '../terms/same-serial.ts';
import { interfaceOf, type PairContext, pairOf } from '../verdicts/drive-context.ts';
import type { Column } from '../verdicts/identity-rows.ts';
import { allTextsOf } from '../verdicts/outcome-captures.ts';
import { defineCheck } from './define-check.ts';
import { exampleCapture, exampleFamily, exampleOutcome, examplePair } from './example-base.ts';
import { spotOf } from './report-spot.ts';

const sata = { ...examplePair, ...exampleFamily('interface: sata\nadaptives: {stored_in: platters}\n') };

/** A reported text that no ATA drive can have reported. */
export const identifyStringInvalid = defineCheck({
  check: 'identify-string-invalid',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['outcome'],
  why: 'An ATA drive answers in fields of fixed length and plain ASCII. A longer text, or one with other letters, was typed or came from somewhere else, so it cannot show whose identity the assembly had.',
  examples: () => [
    {
      title: 'Firmware versions have eight characters at most',
      files: {
        ...sata,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
identity: [{value: firmware, after: 2.14-K rev B}]
#                                   ^^^^^^^^^^^^ identify-string-invalid: Firmware \`2.14-K rev B\` has 12 characters, but an ATA drive reports at most 8.
reached: reads
result: works
`,
      },
    },
    {
      title: 'Eight characters, and a longer model name',
      files: {
        ...sata,
        'outcomes/one.yaml': exampleOutcome(
          'identity: [{value: firmware, after: 02.14-KB}, {value: model, after: WREN TERN 2 NT10-21}]\n',
        ),
      },
    },
    {
      title: 'A captured name that no ATA drive has',
      files: {
        ...sata,
        'outcomes/one.yaml': exampleOutcome(`captures: {after: 117-on-118.json}
#                 ^^^^^^^^^^^^^^^ identify-string-invalid: Firmware \`2.14-K rev B\` has 12 characters, but an ATA drive reports at most 8.
`),
        'outcomes/117-on-118.json': exampleCapture({ firmware: '2.14-K rev B' }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome' || record.data.host?.port === 'usb_bridge') return;
    for (const field of fields) {
      const told = new Set<string>();
      for (const report of allTextsOf(record, snapshot, field.value)) {
        const { reported, column } = report;
        const fault = faultOf(reported, field);
        if (fault === undefined || told.has(reported) || !isFromAta(column, pairOf(record, snapshot))) continue;
        told.add(reported);
        yield { ...spotOf(record, report), message: `${field.name} \`${reported}\` ${fault}.` };
      }
    }
  },
});

interface Field {
  readonly value: 'serial' | 'firmware' | 'model';
  readonly name: string;
  readonly length: number;
}

/** Source: T13 ATA/ATAPI Command Set, IDENTIFY DEVICE words 10-19, 23-26 and 27-46, as Linux `include/linux/ata.h` has them. */
const fields: readonly Field[] = [
  { value: 'serial', name: 'Serial number', length: 20 },
  { value: 'firmware', name: 'Firmware', length: 8 },
  { value: 'model', name: 'Model name', length: 40 },
];

/** Whether a value came from an ATA board: that of the drive before, that of the other one after. */
function isFromAta(column: Column, { patient, donor }: PairContext): boolean {
  const name = interfaceOf(column === 'patient_before' || column === 'other_after' ? patient : donor);
  return name === 'sata' || name === 'pata';
}

/** What is wrong with a reported text, or undefined. Of a masked serial number only the characters of its tail can be judged. */
function faultOf(text: string, { value, length }: Field): string | undefined {
  if (value === 'serial' && text.startsWith('digest:')) return undefined;
  const [stranger] = /[^\x20-\x7e]/u.exec(text) ?? [];
  if (stranger !== undefined) return `holds \`${stranger}\`, but an ATA drive reports printable ASCII only`;
  const isTooLong = text.length > length && (value !== 'serial' || isFullSerial(text));
  return isTooLong ? `has ${text.length} characters, but an ATA drive reports at most ${length}` : undefined;
}
