import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { exactBytes, fitsNominal, idemaSectors, isMismatch, isOtherSectors } from '../terms/capacity.ts';
import { byteSize } from '../text/byte-size.ts';
import { inThousands } from '../text/in-thousands.ts';
import { quotedList } from '../text/quoted-list.ts';
import { capacityFactsOf, contextOf, type DriveContext } from '../verdicts/drive-context.ts';
import { isModelOutside } from '../verdicts/family-fit.ts';
import { capturedMismatches } from './captured-capacity.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleCapture, exampleFamily, exampleOutcome, examplePair } from './example-base.ts';

const family = exampleFamily('sector_bytes: {logical: 512}\ncapacities_gb: [500, 1000]\n');

/** A capacity that does not fit the number of sectors or the family. */
export const capacityMismatch = defineCheck({
  check: 'capacity-mismatch',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['drive', 'outcome'],
  why: 'The share of a drive that was verified is taken of its capacity: off by a factor of 8, a few files pass for the whole drive. A size the family was never sold in may be the alias a drive answers with when it cannot read its own service area.',
  examples: () => [
    {
      title: 'Counted in sectors of 4,096 bytes',
      files: {
        ...family,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
capacity_gb: 1000
lba_count: 244190646
#          ^^^^^^^^^ capacity-mismatch: \`lba_count\` \`244190646\` times 512 bytes is 125.03 GB, but \`capacity_gb\` is \`1000\` (counted in other sectors?).
`,
      },
    },
    {
      title: 'A size the family does not have',
      files: {
        ...family,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
capacity_gb: 750
#            ^^^ capacity-mismatch: Capacity \`750\` GB is none that family \`tern-2\` was sold in: \`500\`, \`1000\`.
`,
      },
    },
    {
      title: 'The usual number of sectors',
      files: {
        ...family,
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\ncapacity_gb: 1000\nlba_count: 1953525168\n',
      },
    },
    {
      title: 'What a capture has, counted in other sectors',
      files: {
        ...examplePair,
        'drives/tern.yaml':
          'kind: drive\nid: d-0117\nfamily: tern-2\ncapacity_gb: 1000\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
        'outcomes/one.yaml': exampleOutcome(`captures: {patient_before: 117a.json, donor_before: 118a.json}
#                          ^^^^^^^^^ capacity-mismatch: The capture of \`patient_before\` has \`1953525168\` sectors of 4,096 bytes, that is 8.0016 TB, but \`capacity_gb\` of drive \`d-0117\` is \`1000\` (counted in other sectors?).
`),
        'outcomes/117a.json': exampleCapture({ lbaCount: 1_953_525_168, logicalSectorBytes: 4096 }),
        'outcomes/118a.json': exampleCapture({ lbaCount: 1_953_525_168, logicalSectorBytes: 4096 }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind === 'outcome') yield* capturedMismatches(record, snapshot);
    if (record.kind !== 'drive') return;
    const context = contextOf(record, snapshot);
    const draft = againstNominal(context) ?? againstFamily(context);
    if (draft) yield draft;
  },
});

function againstNominal(context: DriveContext): Draft | undefined {
  const { drive } = context;
  const facts = capacityFactsOf(context);
  const bytes = exactBytes(facts);
  const { nominalGb, logicalSectorBytes = 0 } = facts;
  if (drive.data.host_protected === true || bytes === undefined || nominalGb === undefined || !isMismatch(facts)) {
    return undefined;
  }
  const hint = isOtherSectors(bytes, nominalGb) ? ' (counted in other sectors?)' : '';
  const usual = idemaSectors(nominalGb, logicalSectorBytes);
  const sectors = `sectors of ${inThousands(logicalSectorBytes)} bytes`;
  return {
    at: { record: drive, path: ['lba_count'], side: 'value' },
    message: `\`lba_count\` \`${drive.data.lba_count}\` times ${inThousands(logicalSectorBytes)} bytes is ${byteSize(bytes)}, but \`capacity_gb\` is \`${nominalGb}\`${hint}.`,
    help:
      usual === undefined
        ? undefined
        : `Compare with the label; ${nominalGb} GB are usually ${inThousands(usual)} ${sectors}.`,
    related: [{ at: { record: drive, path: ['capacity_gb'], side: 'value' }, message: 'The nominal capacity.' }],
  };
}

function againstFamily(context: DriveContext): Draft | undefined {
  const { drive, family } = context;
  const { capacities_gb: sizes = [] } = family?.data ?? {};
  if (!family || sizes.length === 0 || isModelOutside(context)) return undefined;
  const list = quotedList(sizes);
  const related = [
    { at: { record: family, path: ['capacities_gb'], side: 'key' } as const, message: 'The capacities of the family.' },
  ];
  const { capacity_gb: nominal, lba_count: sectors } = drive.data;
  if (nominal !== undefined) {
    if (sizes.includes(nominal)) return undefined;
    const message = `Capacity \`${nominal}\` GB is none that family \`${family.id}\` was sold in: ${list}.`;
    return { at: { record: drive, path: ['capacity_gb'], side: 'value' }, message, related };
  }
  const bytes = exactBytes(capacityFactsOf(context));
  if (bytes === undefined || drive.data.host_protected === true || sizes.some((size) => fitsNominal(bytes, size))) {
    return undefined;
  }
  const hint = sizes.some((size) => isOtherSectors(bytes, size)) ? ' (counted in other sectors?)' : '';
  const message = `\`lba_count\` \`${sectors}\` makes ${byteSize(bytes)}, none of the sizes that family \`${family.id}\` was sold in: ${list} GB${hint}.`;
  return { at: { record: drive, path: ['lba_count'], side: 'value' }, message, related };
}
