import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, MakerRecord } from '../model/record.ts';
import { parseWwn } from '../terms/wwn.ts';
import { quotedList } from '../text/quoted-list.ts';
import type { DriveContext } from '../verdicts/drive-context.ts';
import { isModelOutside } from '../verdicts/family-fit.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase, exampleCapture, exampleOutcome, examplePair } from './example-base.ts';
import { type RecordedWwn, recordedWwns } from './recorded-wwns.ts';

const makers = { 'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\nouis: [00-00-5E]\n' };

/** A world-wide name with a prefix that its drive's maker does not have. */
export const wwnMakerMismatch = defineCheck({
  check: 'wwn-maker-mismatch',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['drive', 'outcome'],
  why: 'A stranger’s prefix means that a bridge answered in the drive’s place, that the name was copied from another label, or that the drive is filed under the wrong maker. In each case the name traces nothing.',
  examples: () => [
    {
      title: 'The prefix of somebody else',
      files: {
        ...exampleBase,
        ...makers,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
wwn: "500a5170004c1d93"
#    ^^^^^^^^^^^^^^^^^^ wwn-maker-mismatch: World-wide name \`500a5170004c1d93\` has the prefix \`00-A5-17\`, but maker \`wren\` has \`00-00-5E\`.
`,
      },
    },
    {
      title: 'A name assigned locally holds no prefix',
      files: {
        ...exampleBase,
        ...makers,
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nwwn: "3123456789abcdef"\n',
      },
    },
    {
      title: 'A captured name with a prefix of somebody else, and one that came through a bridge',
      files: {
        ...examplePair,
        ...makers,
        'outcomes/one.yaml': exampleOutcome(`captures: {patient_before: 117a.json, after: 117-on-118.json}
#                          ^^^^^^^^^ wwn-maker-mismatch: World-wide name \`500a5170004c1d93\` has the prefix \`00-A5-17\`, but maker \`wren\` has \`00-00-5E\`.
`),
        'outcomes/117a.json': exampleCapture({ wwn: '500a5170004c1d93' }),
        'outcomes/117-on-118.json': exampleCapture({ wwn: '500a5170004c1d94', transport: 'usb' }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    for (const wwn of recordedWwns(record, snapshot)) {
      const draft = mismatch(wwn);
      if (draft) yield draft;
    }
  },
});

function mismatch({ text, spot, column, owners }: RecordedWwn): Draft | undefined {
  const wwn = parseWwn(text);
  if ('says' in wwn || wwn.oui === undefined) return undefined;
  // What a drive said of itself before is held against its own record first.
  const isBefore = column === 'patient_before' || column === 'donor_before';
  if (isBefore && owners.some((owner) => owner?.drive.data.wwn !== undefined)) return undefined;
  const makers = owners.map(makerOf);
  const known = new Set(makers.flatMap((maker) => maker ?? []));
  const ouis = [...known].map((maker) => maker.data.ouis ?? []);
  if (known.size === 0 || makers.includes(undefined) || ouis.some((list) => list.length === 0)) return undefined;
  const { oui } = wwn;
  if (ouis.flat().some((prefix) => prefix.toUpperCase() === oui)) return undefined;
  const owned = [...known].map((maker) => `maker \`${maker.id}\` has ${quotedList(maker.data.ouis ?? [])}`);
  return {
    at: spot.at,
    message: `World-wide name \`${text}\` has the prefix \`${oui}\`, but ${owned.join(' and ')}.`,
    related: [
      ...spot.related,
      ...Array.from(known, (maker) => ({
        at: { record: maker, path: ['ouis'], side: 'key' } as const,
        message: `Prefixes of maker \`${maker.id}\`.`,
      })),
    ],
  };
}

/** The maker of a drive; undefined also where the drive looks misfiled, which says nothing about its name. */
function makerOf(owner: DriveContext | undefined): MakerRecord | undefined {
  return owner && !isModelOutside(owner) ? owner.maker : undefined;
}
