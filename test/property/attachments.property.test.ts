import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../server/src/core/checks/finding.ts';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { newlyWanted, wantsOf } from '../../server/src/core/index/attachments.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { sha256 } from '../../server/src/core/text/sha256.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { fileOf, snapshotOf, type Texts, withSeen } from '../harness/snapshot-of.ts';

const contents = ['{}\n', '[]\n'];
const sums = contents.map((text) => sha256(new TextEncoder().encode(text)));

/** Names for files: inside the base, outside, and those that are no path. */
const arbitraryWritten = fc.constantFrom(
  'a.json',
  'sub/b.json',
  '../a.json',
  '../../a.json',
  './sub/b.json',
  '/a.json',
);

const arbitraryNamed = fc.oneof(
  arbitraryWritten.map((file) => JSON.stringify(file)),
  fc
    .record({ file: arbitraryWritten, sha256: fc.constantFrom(...sums) })
    .map(({ file, sha256 }) => `{file: ${JSON.stringify(file)}, sha256: ${sha256}}`),
);

const arbitraryRecord = fc.oneof(
  fc
    .record({ id: fc.constantFrom('o-1', 'o-2'), after: arbitraryNamed, before: arbitraryNamed })
    .map(
      ({ id, after, before }) =>
        `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: d-1\ndonor: d-2\nreached: reads\nresult: works\ncaptures: {patient_before: ${before}, after: ${after}}\n`,
    ),
  fc
    .record({ id: fc.constantFrom('d-1', 'd-2'), photo: arbitraryWritten, rom: arbitraryNamed })
    .map(({ id, photo, rom }) => {
      const image = rom.startsWith('{') ? rom : `{file: ${rom}}`;
      return `kind: drive\nid: ${id}\nfamily: tern-2\nphotos: [{file: ${JSON.stringify(photo)}}]\nrom_image: ${image}\n`;
    }),
  fc.constant('kind: drive\nid: d-2\nfamily: tern-2\n'),
);

const recordPaths = ['x.yaml', 'sub/y.yaml', 'z.yaml'];
const filePaths = ['a.json', 'sub/b.json', 'sub/a.json', 'sub/sub/b.json'];

/** A file of the base that comes, goes or changes. */
const arbitraryStep = fc.oneof(
  fc.record({ path: fc.constantFrom(...recordPaths), text: fc.option(arbitraryRecord, { nil: undefined }) }),
  fc.record({
    path: fc.constantFrom(...filePaths),
    text: fc.option(fc.constantFrom(...contents), { nil: undefined }),
  }),
);

interface Step {
  readonly path: string;
  readonly text: string | undefined;
}

function textsAfter(texts: Texts, { path, text }: Step): Texts {
  const { [path]: _, ...rest } = texts;
  return text === undefined ? rest : { ...rest, [path]: text };
}

/** The snapshot after a step, looked at as an adapter does: what is newly wanted, and the file that changed if it is wanted. */
function stepped(before: Snapshot, step: Step, texts: Texts): Snapshot {
  const isRecord = recordPaths.includes(step.path);
  const file = step.text === undefined ? undefined : fileOf(step.path, step.text);
  const edited = isRecord ? before.with([{ path: step.path, file }]) : before;
  const { wanted, unwanted } = newlyWanted(wantsOf(before), wantsOf(edited));
  const all = withSeen(edited, texts);
  const looked = new Set([...wanted.map(({ path }) => path), ...(isRecord ? [] : [step.path])]);
  return edited.withAttachments([
    ...unwanted.map((path) => [path, undefined] as const),
    ...[...looked].filter((path) => wantsOf(edited).has(path)).map((path) => [path, all.attachment(path)] as const),
  ]);
}

const arbitraryWalk = fc.array(arbitraryStep, { minLength: 1, maxLength: 12 });

/** The base after each step, looked at step by step. */
function* walked(walk: readonly Step[]): Generator<{ readonly texts: Texts; readonly snapshot: Snapshot }> {
  let texts: Texts = {};
  let snapshot = snapshotOf(texts);
  for (const step of walk) {
    texts = textsAfter(texts, step);
    snapshot = stepped(snapshot, step, texts);
    yield { texts, snapshot };
  }
}

describe('files that records name', () => {
  it('looking at what is newly wanted, edit by edit, tells what looking at everything tells', () => {
    const states = new Set<unknown>();
    assertLaw(
      100,
      fc.property(arbitraryWalk, (walk) => {
        for (const { texts, snapshot } of walked(walk)) {
          const fresh = snapshotOf(texts);
          expect([...snapshot.attachments.keys()].sort()).toEqual([...fresh.attachments.keys()].sort());
          for (const path of fresh.attachments.keys()) {
            const attachment = fresh.attachment(path);
            states.add(attachment?.state);
            // A sum that nobody wants any more is still known.
            const isPresence = attachment?.state === 'present' && attachment.contentId === '';
            expect(snapshot.attachment(path)).toMatchObject(isPresence ? { state: 'present' } : { ...attachment });
          }
        }
      }),
    );
    expect(states).toEqual(new Set(['missing', 'present']));
  });

  it('a run after files that records name came, went or changed finds what a fresh one finds', () => {
    const found = new Set<string>();
    assertLaw(
      100,
      fc.property(arbitraryWalk, (walk) => {
        let before = drained(runChecks(snapshotOf({}), { today: 0 }));
        for (const { texts, snapshot } of walked(walk)) {
          before = drained(runChecks(snapshot, { today: 0, before }));
          const fresh = findingsOf(drained(runChecks(snapshotOf(texts), { today: 0 })));
          for (const { check } of fresh) found.add(check);
          expect(findingsOf(before).map(told).sort()).toEqual(fresh.map(told).sort());
        }
      }),
    );
    expect([...found]).toEqual(expect.arrayContaining(['capture-missing', 'capture-changed']));
  });
});

function told(finding: Finding): string {
  return JSON.stringify(finding);
}
