import type { BaseFile } from '../index/snapshot.ts';
import type { Fault } from '../model/fault.ts';
import type { SchemaProblem } from '../schema/schema-fault.ts';
import { resolvePlain } from '../syntax/core-schema.ts';
import type { Path } from '../syntax/tape.ts';
import { nearestPhrase } from '../text/near-names.ts';
import { highestObserved } from '../verdicts/observed-limits.ts';
import { defineCheck } from './define-check.ts';
import { describeFaults, recordLabel } from './fault-check.ts';
import type { DraftFix } from './fix.ts';

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
    const problem = describeProblem(key, fault.problem, recordLabel(file, fault.document));
    return { at, ...problem, fixes: [...fixesOf(fault.path, fault.problem), ...reachedFix(fault, file)] };
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

function fixesOf(path: Path, problem: SchemaProblem): readonly DraftFix[] {
  switch (problem.what) {
    case 'missing':
      return [];
    case 'unquoted': {
      const { typed } = problem;
      // Shortened, or the name of an alias: the text itself is not known here.
      const isWhole = !typed.startsWith('*') && !typed.endsWith('...');
      const changes = [{ intent: 'set', path, value: typed }] as const;
      return isWhole ? [{ title: `Put quotes round \`${typed}\``, kind: 'fix', changes }] : [];
    }
    case 'refused':
      return problem.near.map((near) => {
        const changes = [{ intent: 'set', path, value: resolvePlain(near) ?? near }] as const;
        return { title: `Replace it with \`${near}\``, kind: problem.near.length === 1 ? 'fix' : 'ask', changes };
      });
  }
}

/** The stage that an outcome reached, where it says so by what was observed alone. */
function reachedFix({ path, problem, document }: Fault & { kind: 'schema' }, { facts }: BaseFile): readonly DraftFix[] {
  const record = facts.records.find((placed) => placed.document === document)?.record;
  if (problem.what !== 'missing' || path[0] !== 'reached' || record?.kind !== 'outcome') return [];
  const stage = highestObserved(record.data.observed ?? {});
  if (stage === undefined) return [];
  const changes = [{ intent: 'set', path, value: stage }] as const;
  return [{ title: `Record \`${stage}\`, the highest stage observed`, kind: 'ask', changes }];
}
