import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import { isFullSerial } from '../terms/same-serial.ts';
import { interfaceOf, pairOf } from '../verdicts/drive-context.ts';
import { type Column, textReportsOf } from '../verdicts/identity-rows.ts';
import { defineCheck } from './define-check.ts';
import { exampleOutcome, examplePair } from './example-base.ts';

const sata = {
  ...examplePair,
  'families/tern.yaml':
    'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\ninterface: sata\nadaptives: {stored_in: platters}\n',
};

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
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome' || record.data.host?.port === 'usb_bridge') return;
    const ata = ataColumns(record, snapshot);
    for (const field of fields) {
      const told = new Set<string>();
      for (const { reported, column, path } of textReportsOf(record, field.value)) {
        const fault = ata.has(column) && !told.has(reported) ? faultOf(reported, field) : undefined;
        if (fault === undefined) continue;
        told.add(reported);
        yield { at: { record, path, side: 'value' }, message: `${field.name} \`${reported}\` ${fault}.` };
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

/** Columns whose values came from an ATA board: that of the drive before, that of the other one after. */
function ataColumns(outcome: OutcomeRecord, snapshot: Snapshot): ReadonlySet<Column> {
  const { patient, donor } = pairOf(outcome, snapshot);
  const isAta = (name: string | undefined): boolean => name === 'sata' || name === 'pata';
  return new Set<Column>([
    ...(isAta(interfaceOf(patient)) ? (['patient_before', 'other_after'] as const) : []),
    ...(isAta(interfaceOf(donor)) ? (['donor_before', 'after'] as const) : []),
  ]);
}

/** What is wrong with a reported text, or undefined. Of a masked serial number only the characters of its tail can be judged. */
function faultOf(text: string, { value, length }: Field): string | undefined {
  if (value === 'serial' && text.startsWith('digest:')) return undefined;
  const [stranger] = /[^\x20-\x7e]/u.exec(text) ?? [];
  if (stranger !== undefined) return `holds \`${stranger}\`, but an ATA drive reports printable ASCII only`;
  const isWhole = value !== 'serial' || isFullSerial(text);
  return isWhole && text.length > length
    ? `has ${text.length} characters, but an ATA drive reports at most ${length}`
    : undefined;
}
