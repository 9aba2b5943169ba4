import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { keyRowsIn } from '../../server/src/core/schema/key-rows.ts';
import { buildData } from '../../server/src/core/syntax/build-data.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { childrenOf, type Path } from '../../server/src/core/syntax/tape.ts';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import { arbitraryFile, spotOf } from '../harness/arbitrary-edit.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

/** The text with the map at a path sorted; undefined where that is refused. */
function sorted(text: string, document: number, path: Path): string | undefined {
  const planned = planEdits({ tape: readText(text).tape, contentId: 'c' }, [{ intent: 'sort', document, path }]);
  return isRefusal(planned) ? undefined : replaceIn(text, planned.edits);
}

/** Members of an outcome as somebody may have typed them, each with a word of its own in its comments. */
const members = [
  'kind: outcome # behind-kind',
  'id: swap-1',
  'date: 2026-03-14 # behind-date',
  'patient: &p d-0117 # behind-patient',
  'donor: d-0118',
  'rom: [left, chip_moved] # behind-rom',
  'host: { port: onboard, name: bench-1 }',
  'controls: # behind-controls\n  swapped_back: not_done\n  # above-donor\n  donor_on_own_board: works # behind-donor\n    # deeper-donor',
  'identity:\n  - after: "1"\n    # above-value\n    value: serial # behind-value\n  - # above-wwn\n    value: wwn',
  'reached: reads # behind-reached',
  'result: works',
  'notes: |\n  # no comment\n  prose',
  'x-job: *p # behind-x-job',
  'zz: >-\n  folded\n\n  twice',
];
const gaps = fc.constantFrom('', '', '', '\n', '# apart\n\n', '# close\n', '\n# both\n\n');

const laidOut = fc
  .tuple(
    fc.shuffledSubarray(members, { minLength: 2 }),
    fc.array(gaps, { minLength: members.length, maxLength: members.length }),
    fc.constantFrom('\n', '\r\n'),
    fc.boolean(),
  )
  .map(([chosen, before, lineEnd, isClosed]) => {
    const text = chosen.map((member, at) => before[at] + member).join('\n') + (isClosed ? '\n' : '');
    return text.replaceAll('\n', lineEnd);
  });

const paths = fc.constantFrom<Path[]>([], [], ['host'], ['controls'], ['identity', 0]);
const subjects = fc.oneof(
  { weight: 3, arbitrary: fc.tuple(laidOut, paths).map(([text, path]) => ({ text, document: 0, path })) },
  {
    weight: 1,
    arbitrary: fc.tuple(arbitraryFile, fc.nat()).map(([text, pick]) => {
      const { document = 0, path = [] } = spotOf(text, pick) ?? {};
      return { text, document, path: path.slice(0, -1) };
    }),
  },
);

/** The keys at a path and what all documents hold, aliases followed. */
function read(text: string, document: number, path: Path): { keys: readonly string[]; data: unknown; node: string } {
  const { tape } = readText(text);
  const data = tape.documents.map(({ root }) => (root < 0 ? undefined : buildData(tape, root).data));
  let entry = tape.documents[document]?.root ?? -1;
  for (const step of path) {
    const children = [...childrenOf(tape, entry)];
    const child = children.find((at, position) => step === (tape.entries[at]!.key ?? position));
    entry = child ?? -1;
  }
  const keys = Array.from(childrenOf(tape, entry), (child) => tape.entries[child]!.key ?? '');
  const { kind } = (data[document] ?? {}) as { readonly kind?: unknown };
  return { keys, data, node: kinds.find((known) => known === kind) ?? 'config' };
}

describe('sort members', () => {
  it('the keys are sorted, and every value reads as before', () => {
    const seen = { done: 0, refused: 0 };
    assertLaw(
      1500,
      fc.property(subjects, ({ text, document, path }) => {
        const after = sorted(text, document, path);
        seen[after === undefined ? 'refused' : 'done']++;
        if (after === undefined) return;
        const [was, is] = [read(text, document, path), read(after, document, path)];
        expect(is.data).toEqual(was.data);
        const order = keyRowsIn(was.node, path).map(({ name }) => name);
        const known = (keys: readonly string[]) => keys.filter((key) => order.includes(key));
        expect([...new Set(known(is.keys))]).toEqual(order.filter((name) => was.keys.includes(name)));
        expect(is.keys).toHaveLength(was.keys.length);
        // What the schema does not know comes last, as it was.
        const others = was.keys.filter((key) => !order.includes(key));
        expect(is.keys.slice(is.keys.length - others.length)).toEqual(others);
      }),
    );
    expectOften(seen.done, seen.refused);
  });

  it('every comment stays, those behind a value with it', () => {
    let count = 0;
    assertLaw(
      1000,
      fc.property(laidOut, paths, (text, path) => {
        const after = sorted(text, 0, path);
        if (after === undefined) return;
        const comments = (of: string) => (of.match(/# .*/g) ?? []).toSorted();
        expect(comments(after)).toEqual(comments(text));
        const behind = (of: string) => (of.match(/\S+:.*# behind.*/g) ?? []).toSorted();
        expect(behind(after)).toEqual(behind(text));
        for (const [line, next] of [
          ['# above-donor', 'donor_on_own_board'],
          ['# above-wwn', 'value: wwn'],
        ] as const) {
          if (after.includes(line)) expect(after.split(line)[1]?.trimStart().startsWith(next)).toBe(true);
        }
        count += Number(after !== text);
      }),
    );
    expectOften(count, 150);
  });

  it('sorting twice is sorting once', () => {
    assertLaw(
      1000,
      fc.property(subjects, ({ text, document, path }) => {
        const once = sorted(text, document, path);
        if (once !== undefined) expect(sorted(once, document, path)).toBe(once);
      }),
    );
  });

  it('aliases repeat what they repeated', () => {
    const seen = { done: 0, refused: 0 };
    const lines = ['id: &a one', 'date: *a', 'patient: &b {x: &a two}', 'donor: [*b]', 'rom: *a', 'x-job: *b'];
    assertLaw(
      1000,
      fc.property(fc.shuffledSubarray(lines, { minLength: 3 }), (chosen) => {
        const text = `kind: outcome\n${chosen.join('\n')}\n`;
        const after = sorted(text, 0, []);
        seen[after === undefined ? 'refused' : 'done']++;
        if (after !== undefined) expect(read(after, 0, []).data).toEqual(read(text, 0, []).data);
      }),
    );
    expectOften(seen.done, 50);
    expectOften(seen.refused, 50);
  });
});
