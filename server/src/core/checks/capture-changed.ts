import { mostAttachmentBytes } from '../captures/attachment.ts';
import { type NamedAttachment, namedAttachments } from '../index/attachments.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { inThousands } from '../text/in-thousands.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase, exampleCapture, exampleOutcome, examplePair } from './example-base.ts';

/** A file that is not the one whose sum was recorded. */
export const captureChanged = defineCheck({
  check: 'capture-changed',
  group: 'structure',
  severity: 'error',
  alsoSeverity: 'info',
  scope: 'record',
  kinds: ['outcome', 'drive'],
  why: 'The sum was recorded so that evidence cannot change unseen. A capture that was edited afterwards proves nothing, and a ROM image with another sum may be a bad read or that of another drive: written to a chip, it costs the drive its adaptives.',
  examples: () => [
    {
      title: 'A capture that was edited afterwards',
      files: {
        ...examplePair,
        'outcomes/one.yaml': exampleOutcome(`captures:
  after:
    file: captures/117-on-118.json
    sha256: 3f786850e387550fdab836ed7e6dc881de23001b6f2a9d0c7b5e41828c0d9a17
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ capture-changed: \`after\` records a file whose SHA-256 begins with \`3f786850e387\`, but that of \`captures/117-on-118.json\` begins with \`ae1323618460\`.
`),
        'outcomes/captures/117-on-118.json': exampleCapture({ model: 'NT10-21' }),
      },
    },
    {
      title: 'A ROM image that is the one recorded',
      files: {
        ...exampleBase,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
rom_image:
  file: ../roms/0117.bin
  sha256: CA3D163BAB055381827226140568F3BEF7EAAC187CEBD76878E0B63E9E442356
`,
        'roms/0117.bin': '{}\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    for (const named of namedAttachments(record, snapshot)) {
      const draft = compare(record, named);
      if (draft) yield draft;
    }
  },
});

function compare(record: AnyRecord, { key, written, sha256, found }: NamedAttachment): Draft | undefined {
  if (!sha256 || !found) return undefined;
  const at = { record, path: sha256.path, side: 'value' } as const;
  if (found.state === 'too-large') {
    const most = inThousands(mostAttachmentBytes);
    return {
      at,
      severity: 'info',
      message: `\`${written}\` was not compared with its SHA-256: it has ${inThousands(found.bytes)} bytes, and files of at most ${most} are read.`,
      help: 'Compare it with a checksum program.',
    };
  }
  if (found.state !== 'present' || found.sha256 === undefined || found.sha256 === sha256.sum) return undefined;
  return {
    at,
    message: `\`${key}\` records a file whose SHA-256 begins with \`${begin(sha256.sum)}\`, but that of \`${written}\` begins with \`${begin(found.sha256)}\`.`,
    help: 'Find out what changed. Bring back the file that was recorded, or, where the new one is meant, record its sum.',
    fixes: [
      {
        title: `Record \`${begin(found.sha256)}…\`, the sum of the file as it is now`,
        kind: 'ask',
        changes: [{ intent: 'set', path: sha256.path, value: found.sha256 }],
      },
    ],
  };
}

/** As much of a sum as people compare by eye. */
function begin(sum: string): string {
  return sum.slice(0, 12);
}
