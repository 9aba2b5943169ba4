import { expect, it } from 'vitest';
import { disagreements } from '../../server/src/core/reasoning/disagreements.ts';
import { interchangeClaims } from '../../server/src/core/reasoning/interchange-claims.ts';
import { excessExceptions } from '../../server/src/core/reasoning/needed-exceptions.ts';
import { unexplainedInterchanges } from '../../server/src/core/reasoning/unexplained-interchanges.ts';
import { manyPairs, type PairOutcome } from '../harness/many-pairs.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

interface Bench {
  /** Further keys of drives, by id. */
  readonly drives?: Readonly<Record<string, object>>;
  readonly files?: Readonly<Record<string, string>>;
}

const usual = { firmware: 'F1', heads: 4, board: { id: 'w100', rev: 'A' } };

const board = `kind: board
id: w100
maker: wren
part_number: W100
revisions: [{rev: A}, {rev: B, drop_in_for: [A]}, {rev: C, drop_in_for: [B, A, B]}]
`;

/** Swaps written `PATIENT>DONOR works` or `fails`, with drives that compare alike unless said otherwise. */
function benchOf(swaps: readonly string[], { drives = {}, files = {} }: Bench = {}) {
  const outcomes = swaps.map((text): PairOutcome => {
    const [pair = '', result, ...more] = text.split(' ');
    const [patient = '', donor = ''] = pair.split('>');
    return { patient, donor, works: result === 'works', ...(more.length > 0 ? { more: '' } : {}) };
  });
  const texts = manyPairs(outcomes, files);
  const ids = [...new Set(outcomes.flatMap(({ patient, donor }) => [patient, donor]))];
  const records = ids.map((id) => JSON.stringify({ kind: 'drive', id, family: 'tern-2', ...usual, ...drives[id] }));
  return snapshotOf({ 'boards.yaml': board, ...texts, 'drives.yaml': records.join('\n---\n'), ...files });
}

it('names outcomes that compare alike and came out opposite, at the later of the two', () => {
  const told = (swaps: readonly string[], bench?: Bench) =>
    [...disagreements(benchOf(swaps, bench))].flatMap(({ outcome, works, romTravels, opposites }) =>
      [...opposites].map(
        ({ outcome: other, shared, unrecorded }) =>
          `${outcome.id} ${works ? 'works' : 'fails'}${romTravels ? '' : ', ROM left'}, unlike ${other.id}: ${shared.join(' ')} / ${unrecorded.join(' ')}`,
      ),
    );
  expect({
    'two pairs': told(['a>b works', 'c>d fails']),
    'the other way round': told(['a>b fails', 'c>d works']),
    'one pair': told(['a>b works', 'b>a fails']),
    three: told(['a>b works', 'c>d fails', 'e>f works']),
    'not controlled': told(['a>b works', 'c>d fails open']),
    'unlike in a key': told(['a>b works', 'c>d fails'], { drives: { d: { heads: 2 } } }),
    'a key known of one': told(['a>b works', 'c>d fails'], { drives: { d: { heads: undefined }, c: { site: 'KL' } } }),
    'alike in three besides the family': told(['a>b works', 'c>d fails'], { drives: { a: { heads: undefined } } }),
    'alike in too few': told(['a>b works', 'c>d fails'], { drives: { a: { heads: undefined, firmware: undefined } } }),
    'no revision': told(['a>b works', 'c>d fails'], {
      drives: { a: { board: { id: 'w100' }, site: 'KL' }, b: { site: 'KL' } },
    }),
    'both differ alike': told(['a>b works', 'c>d fails'], { drives: { b: { heads: 2 }, d: { heads: 2 } } }),
    'most in common first': told(['a>b works', 'c>d works', 'e>f fails'], {
      drives: { a: { site: 'KL' }, b: { site: 'KL' }, e: { site: 'KL' }, f: { site: 'KL' } },
    }),
    'other families': told(['a>b works', 'c>d fails'], { drives: { c: { family: 'tern-3' } } }),
  }).toMatchInlineSnapshot(`
    {
      "a key known of one": [
        "o-2 fails, unlike o-1: firmware board rev / model part_number rom_version site country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
      ],
      "alike in three besides the family": [
        "o-2 fails, unlike o-1: firmware board rev / model part_number rom_version site country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
      ],
      "alike in too few": [],
      "both differ alike": [
        "o-2 fails, unlike o-1: firmware heads board rev / model part_number rom_version site country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
      ],
      "most in common first": [
        "o-3 fails, unlike o-1: firmware site heads board rev / model part_number rom_version country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
        "o-3 fails, unlike o-2: firmware heads board rev / model part_number rom_version country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
      ],
      "no revision": [],
      "not controlled": [],
      "one pair": [],
      "other families": [],
      "the other way round": [
        "o-2 works, unlike o-1: firmware heads board rev / model part_number rom_version site country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
      ],
      "three": [
        "o-3 works, unlike o-2: firmware heads board rev / model part_number rom_version site country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
        "o-2 fails, unlike o-1: firmware heads board rev / model part_number rom_version site country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
      ],
      "two pairs": [
        "o-2 fails, unlike o-1: firmware heads board rev / model part_number rom_version site country capacity_gb head_map head_stack_code preamp sticker controller motor_driver contact_pads rom_package",
      ],
      "unlike in a key": [],
    }
  `);
});

it('counts what came of claimed interchanges', () => {
  const revs = (ids: string, rev: string) =>
    Object.fromEntries([...ids].map((id) => [id, { board: { id: 'w100', rev } }]));
  const drives = { ...revs('aceg', 'A'), ...revs('bd', 'B'), ...revs('fh', 'C') };
  const bench = (files: Readonly<Record<string, string>> = {}) =>
    benchOf(['a>b works', 'c>d fails', 'e>f fails', 'g>h fails open', 'b>a fails', 'a>c works'], { drives, files });
  const claimsIn = (snapshot: ReturnType<typeof bench>) =>
    interchangeClaims(snapshot.find('board', 'w100')!, 'tern-2', snapshot).map(
      ({ rev, standsFor, isClaimed, worked, failed, explained }) =>
        `${rev} for ${standsFor}${isClaimed ? '' : ', not claimed'}: ${worked} worked, ${failed} failed, ${explained} as a law says`,
    );
  const unexplainedIn = (snapshot: ReturnType<typeof bench>) =>
    unexplainedInterchanges(snapshot).map(({ evidence, undecided }) =>
      [evidence.outcome.id, undecided.map(({ record }) => record.id)].flat().join(' '),
    );
  expect(claimsIn(bench())).toEqual([
    'B for A: 1 worked, 1 failed, 0 as a law says',
    'C for B: 0 worked, 0 failed, 0 as a law says',
    'C for A: 0 worked, 1 failed, 0 as a law says',
  ]);
  expect(unexplainedIn(bench())).toEqual(['o-2', 'o-3']);
  const law = (text: string) => bench({ 'rule.yaml': `{kind: rule, id: law, ${text}}\n` });
  expect(claimsIn(law('claim: prevents, when: {donor: {rev: w100/C}}'))[2]).toBe(
    'C for A: 0 worked, 0 failed, 1 as a law says',
  );
  expect(unexplainedIn(law('claim: prevents, when: {donor: {rev: w100/C}}'))).toEqual(['o-2']);
  expect(unexplainedIn(law('claim: needs, when: {same: [rev]}, applies_to: {families: [tern-2]}'))).toEqual([]);
  expect(unexplainedIn(law('claim: needs, when: {same: [rev]}, applies_to: {families: [tern-3]}'))).toEqual([
    'o-2',
    'o-3',
  ]);
  expect(unexplainedIn(law('claim: needs, when: {same: [rev]}, stage: verified'))).toEqual(['o-2', 'o-3']);
  expect(unexplainedIn(law('claim: needs, when: {same: [rev]}, at_least: 0.9'))).toEqual(['o-2', 'o-3']);
  expect(unexplainedIn(law('claim: enough, when: {different: [rev]}'))).toEqual(['o-2', 'o-3']);
  expect(unexplainedIn(law('claim: needs, when: {same: [site]}'))).toEqual(['o-2 law', 'o-3 law']);
  expect(unexplainedIn(law('claim: needs, when: {same: [site]}, stage: spins'))).toEqual(['o-2', 'o-3']);
});

it('names exceptions that change nothing, and why', () => {
  const told = (
    rule: string,
    bench: Bench = {},
    swaps: readonly string[] = ['a>b works', 'c>d fails', 'e>f fails open'],
  ) => {
    const files = {
      ...bench.files,
      'rule.yaml': `{kind: rule, id: law, ${rule}, exceptions: [{outcome: o-1}, {outcome: o-2}, {outcome: o-3}]}\n`,
    };
    return [...excessExceptions(benchOf(swaps, { ...bench, files }))].map(
      ({ position, outcome, because }) => `${position} ${outcome} ${because}`,
    );
  };
  expect({
    'needs what all have': told('claim: needs, when: {same: [heads]}'),
    'needs what none has': told('claim: needs, when: {different: [heads]}'),
    'enough for all': told('claim: enough, when: {same: [heads]}'),
    'out of scope': told('claim: needs, when: {same: [heads]}, applies_to: {families: [tern-3]}', {
      files: { 'more.yaml': '{kind: family, id: tern-3, maker: wren, name: Tern 3}\n' },
    }),
    'not known': told('claim: needs, when: {same: [site]}'),
    'a rate': told('claim: enough, at_least: 0.5, when: {same: [heads]}'),
  }).toMatchInlineSnapshot(`
    {
      "a rate": [
        "0 o-1 support",
        "2 o-3 inconclusive",
      ],
      "enough for all": [
        "0 o-1 support",
        "2 o-3 inconclusive",
      ],
      "needs what all have": [
        "0 o-1 support",
        "1 o-2 neutral",
        "2 o-3 inconclusive",
      ],
      "needs what none has": [
        "1 o-2 support",
        "2 o-3 inconclusive",
      ],
      "not known": [
        "0 o-1 open",
        "1 o-2 open",
        "2 o-3 inconclusive",
      ],
      "out of scope": [
        "0 o-1 out of scope",
        "1 o-2 out of scope",
        "2 o-3 out of scope",
      ],
    }
  `);
});
