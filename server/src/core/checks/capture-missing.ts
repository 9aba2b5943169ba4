import { type NamedAttachment, namedAttachments } from '../index/attachments.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase, exampleCapture, exampleOutcome, examplePair } from './example-base.ts';
import { describeUnusable } from './unusable-capture.ts';

/** A capture, ROM image or photo that a record names and the base does not have. */
export const captureMissing = defineCheck({
  check: 'capture-missing',
  group: 'structure',
  severity: 'error',
  scope: 'record',
  why: 'A capture, a ROM image or a photo is the evidence behind a record. A file that lies on one laptop only, or was never added, is not there for whoever has to believe the record.',
  examples: () => [
    {
      title: 'A capture that was never added',
      files: {
        ...examplePair,
        'outcomes/one.yaml': exampleOutcome(`captures:
  patient_before: captures/117a.json
#                 ^^^^^^^^^^^^^^^^^^ capture-missing: \`patient_before\` names \`captures/117a.json\`, but this base has no file \`outcomes/captures/117a.json\`.
  after: captures/117-on-118.json
`),
        'outcomes/captures/117-on-118.json': exampleCapture({ model: 'NT10-21' }),
      },
    },
    {
      title: 'Another file in place of a capture',
      files: {
        ...examplePair,
        'outcomes/one.yaml': exampleOutcome(`captures:
  patient_before: captures/117a.json
#                 ^^^^^^^^^^^^^^^^^^ capture-missing: \`patient_before\` names \`captures/117a.json\`, which is no capture that can be read: \`capture\` is missing, \`1\` is needed.
  after: captures/117-on-118.json
#        ^^^^^^^^^^^^^^^^^^^^^^^^ capture-missing: \`after\` names \`captures/117-on-118.json\`, which is no capture that can be read: its form is broken.
`),
        'outcomes/captures/117a.json': '{"blockdevices": []}\n',
        'outcomes/captures/117-on-118.json': '{"capture": 1, "values"',
      },
    },
    {
      title: 'A photo that lies outside the base',
      files: {
        ...exampleBase,
        'boards/kr5120.yaml': `kind: board
id: kr5120
maker: wren
part_number: KR5120
photos: [{file: ../../photos/kr5120.jpg}]
#               ^^^^^^^^^^^^^^^^^^^^^^^ capture-missing: \`photos\` names \`../../photos/kr5120.jpg\`, which is no path in this base.
revisions: [{rev: A}]
`,
      },
    },
    {
      title: 'A folder in place of a ROM image',
      files: {
        ...exampleBase,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
rom_image: {file: ../roms/0117}
#                 ^^^^^^^^^^^^ capture-missing: \`rom_image\` names \`../roms/0117\`, but \`roms/0117\` cannot be read: it is a folder.
`,
        'roms/0117/first-read.bin': 'read once',
      },
    },
    {
      title: 'A photo beside the record, and one from a folder above',
      files: {
        ...exampleBase,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
photos: [{file: label.jpg}, {file: ../photos/board.jpg, shows: Component side.}]
`,
        'drives/label.jpg': 'a picture',
        'photos/board.jpg': 'a picture',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    for (const named of namedAttachments(record, snapshot)) {
      const said = describe(named);
      if (said) yield { at: { record, path: named.path, side: 'value' }, ...said };
    }
  },
});

/** What is said of a file; undefined where it is there, and where nobody has looked. */
function describe({
  key,
  written,
  need,
  inBase,
  found,
}: NamedAttachment): Pick<Draft, 'message' | 'help' | 'related'> | undefined {
  const names = `\`${key}\` names \`${written}\``;
  if (inBase === undefined) {
    return {
      message: `${names}, which is no path in this base.`,
      help: 'Put the file into the base, and write its path from the folder of this record’s file, with `/` between folders.',
    };
  }
  switch (found?.state) {
    case 'missing':
      return {
        message: `${names}, but this base has no file \`${inBase}\`.`,
        help: 'Add the file, or correct the path; it counts from the folder of this record’s file.',
      };
    case 'outside':
      return {
        message: `${names}, but a link on the way to \`${inBase}\` leads out of this base.`,
        help: 'Put the file itself into the base.',
      };
    case 'unreadable':
      return { message: `${names}, but \`${inBase}\` cannot be read: ${found.reason}.` };
    case 'present':
      return need !== 'capture' || !found.capture
        ? undefined
        : describeUnusable({ names, file: inBase, faults: found.capture.faults });
    case 'too-large':
    case undefined:
      return undefined;
  }
}
