import { romActionsOf } from '../conditions/rom-travels.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type DriveRecord, hasUnusable, type OutcomeRecord } from '../model/record.ts';
import { quotedList } from '../text/quoted-list.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const image = 'sha256: 3b1f0c6a9d2e47f58c60b1a4d7e3925f6e8c0a1b4d7f2936a5c8e0b1f4d72963';
const bench = {
  ...exampleFamily(),
  'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
rom_image: {${image}}
---
kind: drive
id: d-0118
family: tern-2
---
kind: drive
id: d-0119
family: tern-2
rom_image: {${image}}
`,
};

/** ROM data moved or written without an image of both ROMs to go back to. */
export const romNotKept = defineCheck({
  check: 'rom-not-kept',
  group: 'record',
  severity: 'info',
  scope: 'record',
  kinds: ['outcome'],
  why: 'The calibration data of a drive exists once. A chip that cracks on the way or a write that goes wrong takes it along, unless both ROMs were read twice, compared and kept before anything was moved.',
  examples: () => [
    {
      title: 'An image written over a ROM that nobody had read',
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: image_written
#    ^^^^^^^^^^^^^ rom-not-kept: Outcome \`one\` records \`image_written\`, but donor \`d-0118\` has no \`rom_image\`; both images are to be kept before ROM data is moved or written.
reached: reads
result: works
`,
      },
    },
    {
      title: 'Both images are there, or nothing was touched',
      files: {
        ...bench,
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0119\nrom: chip_moved\nreached: reads\nresult: works\n',
        'outcomes/two.yaml':
          'kind: outcome\nid: two\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nrom: left\nreached: reads\nresult: works\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const { patient, donor } = record.data;
    const steps = (romActionsOf(record) ?? []).filter((step) => touching.has(step));
    if (steps.length === 0) return;
    const lacking = (
      [
        ['patient', patient],
        ['donor', donor],
      ] as const
    ).flatMap(([role, id]) => {
      const drive = snapshot.find('drive', id);
      return drive && !hasImage(drive) ? [{ role, drive }] : [];
    });
    if (lacking.length > 0) yield describe(record, steps, lacking);
  },
});

/** Steps that risk the data of a ROM. Source: common practice, no source. */
const touching: ReadonlySet<string> = new Set(['chip_moved', 'image_written', 'controller_moved']);

interface Lacking {
  readonly role: 'patient' | 'donor';
  readonly drive: DriveRecord;
}

/** An image that stands in the record and cannot be read was reported there. */
function hasImage(drive: DriveRecord): boolean {
  const { sha256, file } = drive.data.rom_image ?? {};
  return sha256 !== undefined || file !== undefined || hasUnusable(drive, 'rom_image');
}

function describe(record: OutcomeRecord, steps: readonly string[], lacking: readonly Lacking[]): Draft {
  const done = quotedList(steps, ' and ');
  const names = lacking.map(({ role, drive }) => `${role} \`${drive.id}\``);
  const have = names.length === 1 ? `${names[0]} has no` : `neither ${names.join(' nor ')} has a`;
  return {
    at: { record, path: ['rom'], side: 'value' },
    message: `Outcome \`${record.id}\` records ${done}, but ${have} \`rom_image\`; both images are to be kept before ROM data is moved or written.`,
    help: 'Record under `rom_image` the checksum of the image that was kept; where none was, read the chip twice and compare before it is touched again.',
    related: lacking.map(({ role, drive }) => ({
      at: { record: drive, path: ['rom_image'], side: 'value' },
      message: `The ${role}, \`${drive.id}\`.`,
    })),
  };
}
