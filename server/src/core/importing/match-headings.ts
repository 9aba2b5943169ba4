import type { Snapshot } from '../index/snapshot.ts';
import { isRetracted } from '../model/record.ts';
import { pathOf } from '../recording/answers.ts';
import { findKeyRow, keyRowsIn } from '../schema/key-rows.ts';
import { nearNames } from '../text/near-names.ts';
import { driveWords, numberWords, outcomeWords, type Role, roleWords } from './heading-words.ts';
import { unitRatio } from './read-number.ts';
import { slugOf } from './slug.ts';

/** What a heading is taken to say. */
export interface MatchedHeading {
  readonly column: number;
  /** The drive it tells of, where it says so. */
  readonly role: Role | undefined;
  /** What it fills: a key of a drive or outcome, or the number of a drive. */
  readonly means: { readonly kind: 'drive' | 'outcome'; readonly key: string } | 'number';
  /** False where the name is only near, or could mean something else. */
  readonly isSure: boolean;
  /** Unit behind the name, where it is one of the key's. */
  readonly unit: string | undefined;
}

/** A name under which a key is known. */
interface Known {
  readonly name: string;
  readonly means: MatchedHeading['means'];
}

/** The headings that say what they hold, in order; those left out say nothing that is known here. */
export function matchHeadings(headings: readonly string[], snapshot: Snapshot): readonly MatchedHeading[] {
  const known = knownNames(snapshot);
  return headings.flatMap((heading, column) => matchHeading(heading, column, known) ?? []);
}

function matchHeading(
  heading: string,
  column: number,
  known: ReadonlyMap<string, Known['means']>,
): MatchedHeading | undefined {
  const { name, inBrackets } = splitHeading(heading);
  const words = slugOf(name)
    .split('-')
    .filter((word) => word !== '');
  const role = (['patient', 'donor'] as const).find((one) => words.some((word) => roleWords[one].includes(word)));
  const rest = role ? words.filter((word) => !roleWords[role].includes(word)).join('-') : words.join('-');
  const base = { column, role };
  if (words.length === 0) return undefined;
  if (rest === '' || (role && numberWords.includes(rest)))
    return { ...base, means: 'number', isSure: true, unit: undefined };
  const exact = known.get(rest);
  const near = exact === undefined ? nearNames(rest, known.keys()) : [];
  const means = exact ?? known.get(near[0] ?? '');
  if (means === undefined) return undefined;
  const keyUnit = means === 'number' ? undefined : findKeyRow(means.kind, pathOf(means.key))?.unit;
  const unit =
    keyUnit !== undefined && inBrackets !== undefined && unitRatio(inBrackets, keyUnit) !== undefined
      ? inBrackets
      : undefined;
  return { ...base, means, isSure: exact !== undefined, unit };
}

/** A heading and what stands in brackets at its end. */
function splitHeading(heading: string): { readonly name: string; readonly inBrackets: string | undefined } {
  const words = heading.trimEnd();
  const inside = words.slice(0, -1);
  const before = Math.max(inside.lastIndexOf(')'), inside.lastIndexOf(']')) + 1;
  const opens = /[)\]]$/.test(words) ? inside.slice(before).search(/[([]/) : -1;
  if (opens < 0) return { name: words, inBrackets: undefined };
  return { name: words.slice(0, before + opens).trimEnd(), inBrackets: inside.slice(before + opens + 1) };
}

/** Every name a heading may have: of keys, their titles, what shops say, and what makers print. The first of two counts. */
function knownNames(snapshot: Snapshot): ReadonlyMap<string, Known['means']> {
  const names = new Map<string, Known['means']>();
  const add = (name: string, means: Known['means']): void => {
    const slug = slugOf(name);
    if (slug !== '' && !names.has(slug)) names.set(slug, means);
  };
  for (const [kind, table] of [
    ['outcome', outcomeWords],
    ['drive', driveWords],
  ] as const) {
    for (const [key, words] of Object.entries(table)) for (const word of words) add(word, { kind, key });
  }
  for (const word of numberWords) add(word, 'number');
  for (const kind of ['drive', 'outcome'] as const) {
    for (const key of scalarKeys(kind)) {
      const row = findKeyRow(kind, pathOf(key));
      add(key, { kind, key });
      if (row) add(row.title, { kind, key });
    }
  }
  for (const maker of snapshot.records('maker')) {
    if (isRetracted(maker)) continue;
    for (const { printed_as: printed = '', key = '' } of maker.data.label ?? []) {
      if (findKeyRow('drive', pathOf(key))) add(printed, { kind: 'drive', key });
    }
  }
  return names;
}

/** Keys of a kind, and of maps in it, that one cell can fill. */
function scalarKeys(kind: 'drive' | 'outcome'): readonly string[] {
  const own = new Set(['kind', 'id', 'patient', 'donor', 'sources', 'photos', 'retracted']);
  return keyRowsIn(kind, []).flatMap((row) => {
    if (own.has(row.name) || row.list === 'yes') return [];
    if (row.type !== 'map') return [row.name];
    return keyRowsIn(kind, [row.name]).flatMap((inner) =>
      inner.type === 'map' || inner.list === 'yes' ? [] : [`${row.name}.${inner.name}`],
    );
  });
}
