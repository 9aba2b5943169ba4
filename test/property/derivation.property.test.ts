import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { type CheckedBase, findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { gatherBaseFacts, hasBaseFacts } from '../../server/src/core/features/base-facts.ts';
import { type Derivation, derive, deriving } from '../../server/src/core/index/derivation.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { evidenceByFamily } from '../../server/src/core/verdicts/evidence-by-family.ts';
import { arbitraryFileWalk, editedPaths } from '../harness/arbitrary-walk.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { configFileOf, fileOf, snapshotOf } from '../harness/snapshot-of.ts';

const today = parseDate('2026-11-25') ?? 0;

type Texts = Readonly<Record<string, string>>;

/** What is done next. Numbers choose by their remainder. */
type Act =
  /** Some steps of one of those at work. */
  | { readonly act: 'go on'; readonly who: number; readonly steps: number }
  /** Another run of the checks, or somebody who wants to know what is said beside a text, of the base as it is now. */
  | { readonly act: 'begin'; readonly what: 'run' | 'facts' }
  | { readonly act: 'give up'; readonly who: number }
  /** Somebody does not wait for steps. */
  | { readonly act: 'ask' }
  | { readonly act: 'edit' }
  /** Nothing that is derived outlives that. */
  | { readonly act: 'other settings' };

const arbitraryAct: fc.Arbitrary<Act> = fc.oneof(
  { weight: 8, arbitrary: fc.record({ act: fc.constant('go on'), who: fc.nat(), steps: fc.nat(30) }) },
  { weight: 3, arbitrary: fc.record({ act: fc.constant('begin'), what: fc.constantFrom('run', 'facts') }) },
  { weight: 1, arbitrary: fc.record({ act: fc.constant('give up'), who: fc.nat() }) },
  { weight: 1, arbitrary: fc.constant({ act: 'ask' }) },
  { weight: 3, arbitrary: fc.constant({ act: 'edit' }) },
  { weight: 1, arbitrary: fc.constant({ act: 'other settings' }) },
) as fc.Arbitrary<Act>;

/** Somebody who needs what follows from a base, and what it has to come to. */
interface Worker {
  readonly work: Generator<undefined, unknown>;
  readonly judge: (result: unknown) => void;
}

const configs = ['swaplore: 1\n', 'swaplore: 1\nworks_at: spins\n'] as const;

function factsIn(snapshot: Snapshot): string {
  const families = Array.from(evidenceByFamily(snapshot), ([family, all]) => [family ?? '', all.map(tell)] as const);
  const results = ruleResults(snapshot).map(({ rule, support, against, undecided }) => {
    return [rule.record.id, support.map(tell), against.map(tell), undecided.map(tell)];
  });
  return JSON.stringify([families.sort(([a], [b]) => (a < b ? -1 : 1)), results]);

  function tell({ outcome, verdicts }: { readonly outcome: { readonly id: string }; readonly verdicts: unknown }) {
    return [outcome.id, verdicts];
  }
}

function findingsIn(run: CheckedBase): readonly string[] {
  return findingsOf(run)
    .map((one) => JSON.stringify(one))
    .sort();
}

/** Work of which some steps are done; at its end it gives its result to whoever goes on with it. */
function begun<Result>(work: Generator<undefined, Result>, steps: number): Generator<undefined, Result> {
  for (let step = 0; step < steps; step++) {
    const { done, value } = work.next();
    if (!done) continue;
    return (function* () {
      yield* [];
      return value as Result;
    })();
  }
  return work;
}

describe('derivation', () => {
  it('a derivation comes to the same however its steps are taken', () => {
    const seen = { runs: 0, facts: 0, atHand: 0 };
    const acts = fc.array(arbitraryAct, { minLength: 20, maxLength: 60 });
    const arbitraryWalk = arbitraryFileWalk({ minLength: 12, maxLength: 12 });
    const begin = (what: 'run' | 'facts', snapshot: Snapshot, texts: Texts): Worker => {
      if (what === 'facts') {
        const judge = () => {
          expect(hasBaseFacts(snapshot)).toBe(true);
          expect(factsIn(snapshot)).toBe(factsIn(snapshotOf(texts)));
          seen.facts++;
        };
        return { work: gatherBaseFacts(snapshot), judge };
      }
      const judge = (result: unknown) => {
        expect(findingsIn(result as CheckedBase)).toEqual(findingsIn(drained(runChecks(snapshotOf(texts), { today }))));
        seen.runs++;
      };
      return { work: runChecks(snapshot, { today }), judge };
    };
    assertLaw(
      12,
      fc.property(arbitraryWalk, acts, ([start, ...walk], all) => {
        let texts: Texts = start;
        let snapshot = snapshotOf(start);
        let edits = 0;
        let settings = 0;
        const workers: Worker[] = [];
        for (const one of all) {
          const who = 'who' in one ? one.who % Math.max(1, workers.length) : 0;
          const { [who]: worker } = workers;
          if (one.act === 'begin') workers.push(begin(one.what, snapshot, texts));
          else if (one.act === 'give up') workers.splice(who, 1);
          else if (one.act === 'go on' && worker) workers[who] = { ...worker, work: begun(worker.work, one.steps) };
          else if (one.act === 'ask') {
            if (hasBaseFacts(snapshot)) seen.atHand++;
            expect(factsIn(snapshot)).toBe(factsIn(snapshotOf(texts)));
          } else if (one.act === 'edit') {
            const next: Texts = { ...walk[edits++ % walk.length]!, [configPath]: texts[configPath] ?? configs[0] };
            const paths = editedPaths(texts, next).filter((path) => path !== configPath);
            snapshot = snapshot.with(
              paths.map((path) => ({ path, file: path in next ? fileOf(path, next[path]!) : undefined })),
            );
            texts = next;
          } else if (one.act === 'other settings') {
            texts = { ...texts, [configPath]: configs[++settings % 2]! };
            snapshot = snapshot.withConfig(configFileOf(texts[configPath]!));
          }
        }
        for (const { work, judge } of workers) judge(drained(work));
      }),
    );
    expect(Math.min(seen.runs, seen.facts, seen.atHand)).toBeGreaterThan(5);
  });
});

describe('steps in turn', () => {
  /** Counts the records of a base, one a step. */
  function counting(): Derivation<number> & { begun: number; steps: number } {
    return {
      name: 'count',
      begun: 0,
      steps: 0,
      *compute(snapshot) {
        this.begun++;
        let count = 0;
        for (const _ of snapshot.allRecords()) {
          count++;
          this.steps++;
          yield;
        }
        return count;
      },
      update: (value, { records }) =>
        value + records.reduce((sum, { before, after }) => sum + (after ? 1 : 0) - (before ? 1 : 0), 0),
    };
  }

  const maker = (id: string) => ({
    path: `${id}.yaml`,
    file: fileOf(`${id}.yaml`, `kind: maker\nid: ${id}\nname: W\n`),
  });
  const four = snapshotOf({}).with(['a', 'b', 'c', 'd'].map(maker));

  it('what an edit meets half done is carried on, and nothing stale comes of it', () => {
    const count = counting();
    const first = deriving(count, four.with([]));
    first.next();
    first.next();
    const five = four.with([maker('e')]);
    const second = deriving(count, five);
    second.next();
    expect(derive(count, five)).toBe(5);
    expect([count.begun, count.steps]).toEqual([1, 4]);
    expect(second.next()).toEqual({ done: true, value: 5 });
    expect(first.next()).toEqual({ done: true, value: 4 });
  });

  it('several at one derivation all come to an end, even where none is of use to another', () => {
    const count = counting();
    const base = four.with([maker('f')]);
    const other = base.withConfig(configFileOf('swaplore: 1\nworks_at: spins\n'));
    const both = [deriving(count, base), deriving(count, other)];
    const ends = both.map(() => 0);
    for (let turn = 0; turn < 40; turn++) {
      for (const [position, one] of both.entries()) if (one.next().done) ends[position]!++;
    }
    expect(Math.min(...ends)).toBeGreaterThan(0);
    expect([derive(count, base), derive(count, other)]).toEqual([5, 5]);
  });

  it('a computation that throws leaves nothing behind', () => {
    const base = four.with([maker('g')]);
    let isBroken = true;
    const fragile: Derivation<string> = {
      name: 'fragile',
      *compute() {
        yield;
        if (isBroken) throw new Error('broken');
        return 'whole';
      },
      update: (value) => value,
    };
    const [one, other] = [deriving(fragile, base), deriving(fragile, base)];
    one.next();
    expect(() => other.next()).toThrow('broken');
    isBroken = false;
    expect(derive(fragile, base)).toBe('whole');
    expect(one.next()).toEqual({ done: true, value: 'whole' });
  });
});
