import { type ComparableText, comparableTexts } from '../conditions/comparable-texts.ts';
import type { Changes } from '../index/changes.ts';
import { type Derivation, derive, type Steps } from '../index/derivation.ts';
import { isEqual } from '../index/is-equal.ts';
import { affectedBy } from '../index/referrers.ts';
import { SharedMap } from '../index/shared-map.ts';
import { byStanding, type Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, isRetracted } from '../model/record.ts';
import { drained } from '../terms/drained.ts';
import { addTo } from '../terms/grouped.ts';
import { foldText } from '../text/fold.ts';
import { type Draft, defineCheck, type Spot } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const bench = {
  ...exampleFamily(),
};

/** Records, and names of buckets, between two yields. */
const recordsPerStep = 50;
const namesPerStep = 500;

/** The uses of free texts. Texts that look alike share a bucket, which keeps the search linear in the number of values. */
const buckets: Derivation<Buckets> = {
  name: 'look-alike values',
  *compute(snapshot) {
    const found = new Map<string, Use[]>();
    // Thousands of drives share a few hundred texts.
    const known = new Map<string, string>();
    const shorten = (value: string): string => {
      const short = known.get(value) ?? withoutSlips(value);
      known.set(value, short);
      return short;
    };
    let count = 0;
    for (const record of snapshot.allRecords()) {
      if (++count % recordsPerStep === 0) yield;
      for (const [name, use] of usesIn(record, snapshot, shorten)) addTo(found, name, use);
    }
    const all = SharedMap.of<readonly Use[]>(found);
    return { all, mixed: yield* mixedOf(all, found.keys(), new Set()) };
  },
  update(value, changes) {
    const { before, after } = changes;
    const changed = new Map<string, readonly Use[]>();
    const usesOf = (name: string): readonly Use[] => changed.get(name) ?? value.all.get(name) ?? [];
    const old = changes.records.flatMap((change) => change.before ?? []);
    const affected = [...affectedBy(changes)].filter((record) => !isComparedAlike(record, changes));
    for (const record of new Set([...old, ...affected.flatMap(({ kind, id }) => before.findAny(kind, id) ?? [])])) {
      for (const [name] of usesIn(record, before)) {
        changed.set(
          name,
          usesOf(name).filter((use) => use.record !== record),
        );
      }
    }
    for (const record of affected) {
      for (const [name, use] of usesIn(record, after)) changed.set(name, [...usesOf(name), use]);
    }
    const all = value.all.with(
      Array.from(changed, ([name, uses]) => [name, uses.length > 0 ? uses : undefined] as const),
    );
    return { all, mixed: drained(mixedOf(all, changed.keys(), value.mixed)) };
  },
};

/** Two spellings of what may be one value. */
export const lookAlikeValue = defineCheck({
  check: 'look-alike-value',
  group: 'record',
  severity: 'info',
  scope: 'base',
  restsOn: [buckets],
  why: 'Values are compared as text. A letter O typed for a zero, or a hyphen more, makes two equal drives different: rules then miss the one, and a needless difference is taken for the reason why a swap failed.',
  examples: () => [
    {
      title: 'The letter O in place of a zero',
      files: {
        ...bench,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
firmware: K2.04
---
kind: drive
id: d-0118
family: tern-2
firmware: K2.O4
#         ^^^^^ look-alike-value: \`firmware\` is \`K2.O4\` on drive \`d-0118\`, but \`K2.04\` on drive \`d-0117\` and 1 more; they differ only by O and 0, and are compared as different.
---
kind: drive
id: d-0119
family: tern-2
firmware: k2.04
`,
      },
    },
    {
      title: 'Spaces and hyphens; of two that are equally frequent the later by path is marked',
      files: {
        ...bench,
        'drives/a.yaml': 'kind: drive\nid: d-0200\nfamily: tern-2\nhead_map: 0 1 2 3\npreamp: PA-31I\n',
        'drives/b.yaml': `kind: drive
id: d-0100
family: tern-2
head_map: "0123"
#         ^^^^^^ look-alike-value: \`head_map\` is \`0123\` on drive \`d-0100\`, but \`0 1 2 3\` on drive \`d-0200\`; they differ only by spaces, and are compared as different.
preamp: PA311
#       ^^^^^ look-alike-value: \`preamp\` is \`PA311\` on drive \`d-0100\`, but \`PA-31I\` on drive \`d-0200\`; they differ only by hyphens and I and 1, and are compared as different.
`,
      },
    },
    {
      title: 'Values that differ in more, in other keys, or only in letter case',
      files: {
        ...bench,
        'drives/tern.yaml':
          'kind: drive\nid: d-0117\nfamily: tern-2\nfirmware: K2.04\nsite: SB\n---\nkind: drive\nid: d-0118\nfamily: tern-2\nfirmware: K2.05\nrom_version: K2.O4\nsite: sb\n',
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const spellings of lookAlikes(snapshot)) {
      // The one most in use is held to be meant; a map keeps the order of paths, so of equals the first stands.
      const usual = spellings.reduce((best, next) => (next.count > best.count ? next : best));
      for (const spelling of spellings) if (spelling !== usual) yield describe(spelling, usual);
    }
  },
});

/** A free text of a record that counts. */
interface Use {
  readonly record: AnyRecord;
  readonly text: ComparableText;
}

/** One way in which a value is written, letter case aside, with where it stands first by path. */
interface Spelling extends Use {
  readonly count: number;
}

/** Differences that the eye passes over, each with what undoes it in a text that `foldText` has folded. */
const slips = [
  { name: 'spaces', pattern: /\s+/g, becomes: '' },
  { name: 'hyphens', pattern: /\p{Pd}+/gu, becomes: '' },
  { name: 'O and 0', pattern: /o/g, becomes: '0' },
  { name: 'I and 1', pattern: /i/g, becomes: '1' },
] as const;

/** Uses by what is left of a text without slips, together with the key and scope it is compared in. */
interface Buckets {
  readonly all: SharedMap<readonly Use[]>;
  /** The names of those that hold more than one spelling. */
  readonly mixed: ReadonlySet<string>;
}

/** Whether the texts of a record are compared under the same names as before. */
function isComparedAlike(record: AnyRecord, { before, after }: Changes): boolean {
  if (before.findAny(record.kind, record.id) !== record) return false;
  const namesIn = (snapshot: Snapshot): readonly string[] => Array.from(usesIn(record, snapshot), ([name]) => name);
  return isEqual(namesIn(before), namesIn(after));
}

function* usesIn(
  record: AnyRecord,
  snapshot: Snapshot,
  shorten: (value: string) => string = withoutSlips,
): Generator<readonly [string, Use]> {
  if (isRetracted(record)) return;
  for (const text of comparableTexts(record, snapshot)) {
    // A text may hold anything, so it stands last; keys and ids hold no line end.
    yield [`${text.key}\n${text.scope}\n${shorten(text.value)}`, { record, text }];
  }
}

/** Groups of two or more spellings that look alike, each in the order of paths. */
function* lookAlikes(snapshot: Snapshot): Generator<readonly Spelling[]> {
  const { all, mixed } = derive(buckets, snapshot);
  for (const name of mixed) yield spellingsOf(all.get(name) ?? [], snapshot);
}

/** The names of buckets with more than one spelling, where those of some are looked up anew. */
function* mixedOf(all: Buckets['all'], names: Iterable<string>, before: Buckets['mixed']): Steps<Set<string>> {
  const mixed = new Set(before);
  let count = 0;
  for (const name of names) {
    if (++count % namesPerStep === 0) yield;
    const uses = all.get(name) ?? [];
    const first = uses[0]?.text.value ?? '';
    // Most are written alike to the letter.
    if (uses.some(({ text }) => text.value !== first && foldText(text.value) !== foldText(first))) mixed.add(name);
    else mixed.delete(name);
  }
  return mixed;
}

function spellingsOf(uses: readonly Use[], snapshot: Snapshot): Spelling[] {
  const inOrder = [...uses].sort((a, b) => byStanding(snapshot.locate(a.record), snapshot.locate(b.record)));
  const spellings = new Map<string, Spelling>();
  for (const use of inOrder) {
    const name = foldText(use.text.value);
    const known = spellings.get(name);
    spellings.set(name, known ? { ...known, count: known.count + 1 } : { ...use, count: 1 });
  }
  return [...spellings.values()];
}

function withoutSlips(value: string, except?: string): string {
  let text = foldText(value);
  for (const { name, pattern, becomes } of slips) if (name !== except) text = text.replace(pattern, becomes);
  return text;
}

function describe(spelling: Spelling, usual: Spelling): Draft {
  const { key, value } = spelling.text;
  const more = usual.count > 1 ? ` and ${usual.count - 1} more` : '';
  const differences = slips
    .filter(({ name }) => withoutSlips(value, name) !== withoutSlips(usual.text.value, name))
    .map(({ name }) => name);
  return {
    at: spotOf(spelling),
    message: `\`${key}\` is \`${value}\` ${placeOf(spelling)}, but \`${usual.text.value}\` ${placeOf(usual)}${more}; they differ only by ${differences.join(' and ')}, and are compared as different.`,
    help: `Look at the part or the label again; if both are meant to be one, write \`${usual.text.value}\` in both.`,
    related: [{ at: spotOf(usual), message: `\`${usual.text.value}\`.` }],
  };
}

function spotOf({ record, text }: Spelling): Spot {
  return { record, path: text.path, side: 'value' };
}

function placeOf({ record }: Spelling): string {
  return `${record.kind === 'rule' ? 'in' : 'on'} ${record.kind} \`${record.id}\``;
}
