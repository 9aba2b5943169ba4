import type { SchemaProblem } from '../schema/schema-fault.ts';
import { nearestPhrase } from '../text/near-names.ts';
import { defineCheck } from './define-check.ts';
import { describeFaults, recordLabel } from './fault-check.ts';

/** A value that its key does not allow, or a required key without one. */
export const schema = defineCheck({
  check: 'schema',
  group: 'structure',
  severity: 'error',
  scope: 'file',
  why: 'A value that does not fit its key cannot be compared with any other, so it is treated as not known. One wrong word in `rom` and an outcome no longer says anything about the ROM.',
  examples: () => [
    {
      title: 'A misspelt value',
      files: {
        'rules/tern.yaml': `kind: rule
id: tern-rom-travels
claim: need
#      ^^^^ schema: \`claim\` cannot be \`need\`; the nearest is \`needs\`.
when: {rom_travels: true}
`,
      },
    },
    {
      title: 'A number where text is due loses its zeros',
      files: {
        'boards/kestrel.yaml': `kind: board
id: kestrel
maker: wren
part_number: 0040
#            ^^^^ schema: \`part_number\` is read as the number 40, but text is needed.
revisions: [{rev: A}]
`,
        'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
      },
    },
    {
      title: 'A required key is missing',
      files: {
        'makers/wren.yaml': `kind: maker
#<^^^^^^^^^ schema: Maker \`wren\` has no \`name\`; text is needed.
id: wren
`,
      },
    },
    {
      title: 'A date that does not exist',
      files: {
        'makers/wren.yaml': `kind: maker
id: wren
name: Wren
sources:
  - title: Price list
    seen: 2026-02-30
#         ^^^^^^^^^^ schema: \`seen\` cannot be \`2026-02-30\`; a date such as \`2026-03-14\` is needed.
`,
      },
    },
    {
      title: 'A record of no known kind',
      files: {
        'drives/tern.yaml': `kind: drvie
#     ^^^^^ schema: \`kind\` cannot be \`drvie\`; the nearest is \`drive\`.
id: d-0117
`,
      },
    },
    {
      title: 'Quoted numbers, and an empty value, which counts as absent',
      files: {
        'boards/kestrel.yaml':
          'kind: board\nid: kestrel\nmaker: wren\npart_number: "0040"\ninterface:\nrevisions: [{rev: A}]\n',
        'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
      },
    },
  ],
  run: describeFaults('schema', (fault, file) => {
    const key = String(fault.path.filter((step) => typeof step === 'string').at(-1) ?? 'document');
    const at = { file: file.path, document: fault.document, path: fault.path, side: 'value' } as const;
    return { at, ...describeProblem(key, fault.problem, recordLabel(file, fault.document)) };
  }),
});

/** A problem in words: what was seen and what was expected, and the way out where there is only one. */
export function describeProblem(
  key: string,
  problem: SchemaProblem,
  label: string,
): { message: string; help?: string } {
  switch (problem.what) {
    case 'missing':
      return { message: `${label} has no \`${key}\`; ${problem.expected} is needed.` };
    case 'unquoted':
      return {
        message: `\`${key}\` is read as ${problem.readAs}, but text is needed.`,
        help: `Put quotes round it: \`"${problem.typed}"\`.`,
      };
    case 'refused': {
      const nearest = nearestPhrase(problem.near) ?? `${problem.expected} is needed`;
      const message = `\`${key}\` cannot be \`${problem.typed}\`; ${nearest}.`;
      return problem.near.length === 1 ? { message, help: `Replace it with \`${problem.near[0]}\`.` } : { message };
    }
  }
}
