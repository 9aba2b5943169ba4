import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { parseWwn } from '../terms/wwn.ts';
import { defineCheck } from './define-check.ts';
import { exampleBase, exampleCapture, exampleOutcome, examplePair } from './example-base.ts';
import { recordedWwns } from './recorded-wwns.ts';

/** A world-wide name that cannot be one. */
export const wwnInvalid = defineCheck({
  check: 'wwn-invalid',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['drive', 'outcome'],
  why: 'A world-wide name is unique, so it is the surest way to tell whose identity an assembly comes up with. With a digit lost in copying it matches nothing, and the swap looks as if a third drive had spoken.',
  examples: () => [
    {
      title: 'A digit is missing',
      files: {
        ...exampleBase,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
wwn: "500005e00053000"
#    ^^^^^^^^^^^^^^^^^ wwn-invalid: World-wide name \`500005e00053000\` has 15 hexadecimal digits, but a world-wide name has 16.
`,
      },
    },
    {
      title: 'No layout begins with this digit',
      files: {
        ...exampleBase,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
wwn: "0x00005e0000530001"
#    ^^^^^^^^^^^^^^^^^^^^ wwn-invalid: World-wide name \`0x00005e0000530001\` begins with \`0\`, but the first digit of a world-wide name is 2, 3, 5 or 6.
`,
      },
    },
    {
      title: 'Prefix and spaces do no harm',
      files: {
        ...exampleBase,
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nwwn: "naa.5000 05E0 0053 0001"\n',
      },
    },
    {
      title: 'A captured name that lost a digit',
      files: {
        ...examplePair,
        'outcomes/one.yaml': exampleOutcome(`captures: {after: 117-on-118.json}
#                 ^^^^^^^^^^^^^^^ wwn-invalid: World-wide name \`500005e00053000\` has 15 hexadecimal digits, but a world-wide name has 16.
`),
        'outcomes/117-on-118.json': exampleCapture({ wwn: '500005e00053000' }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    for (const { text, spot, column } of recordedWwns(record, snapshot)) {
      const wwn = parseWwn(text);
      // A drive's own name is one of 16 digits; only rows may hold the long names of logical units.
      const isLong = !('says' in wwn) && wwn.naa === 6 && column === undefined;
      if (!('says' in wwn) && !isLong) continue;
      const says = 'says' in wwn ? wwn.says : 'has 32 hexadecimal digits, but that of a drive has 16';
      yield { ...spot, message: `World-wide name \`${text}\` ${says}.` };
    }
  },
});
