import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, isRetracted, type MakerRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { addTo } from '../terms/grouped.ts';
import { remembered } from '../terms/remembered.ts';
import { isSameWwn, parseWwn } from '../terms/wwn.ts';
import { inARow } from '../text/in-a-row.ts';
import { pairOf } from '../verdicts/drive-context.ts';
import { textReportsOf } from '../verdicts/identity-rows.ts';
import type { HintDraft } from './hint-draft.ts';

/**
 * Whose prefix a drive's world-wide name has, where the base says so, and those an outcome reports besides the names of its two drives;
 * of a name that stands several times, beside the first.
 */
export function nameHints(record: AnyRecord, snapshot: Snapshot): readonly HintDraft[] {
  const names = namesIn(record, snapshot);
  if (names.length === 0) return [];
  const owners = ownersOf(snapshot.records('maker'));
  const seen = new Set<string>();
  return names.flatMap(({ text, path }) => {
    const wwn = parseWwn(text);
    if ('says' in wwn || wwn.oui === undefined || seen.has(wwn.digits)) return [];
    seen.add(wwn.digits);
    const makers = owners.get(wwn.oui) ?? [];
    if (makers.length === 0) return [];
    const detail = `The prefix \`${wwn.oui}\` of this world-wide name is recorded for maker ${inARow(makers.map(({ id }) => id))}.`;
    return [{ at: [path], text: makers.map(({ id }) => id).join(' or '), detail }];
  });
}

function namesIn(record: AnyRecord, snapshot: Snapshot): readonly { readonly text: string; readonly path: Path }[] {
  if (record.kind === 'drive') return record.data.wwn === undefined ? [] : [{ text: record.data.wwn, path: ['wwn'] }];
  if (record.kind !== 'outcome') return [];
  const { patient, donor } = pairOf(record, snapshot);
  const own = [patient, donor].flatMap((context) => context?.drive.data.wwn ?? []);
  return textReportsOf(record, 'wwn').flatMap(({ reported, path }) =>
    own.some((known) => isSameWwn(known, reported)) ? [] : [{ text: reported, path }],
  );
}

/** The makers that have each prefix. */
const ownersOf = remembered((makers: readonly MakerRecord[]): ReadonlyMap<string, readonly MakerRecord[]> => {
  const owners = new Map<string, MakerRecord[]>();
  for (const maker of makers) {
    const ouis = isRetracted(maker) ? [] : (maker.data.ouis ?? []);
    for (const oui of new Set(ouis.map((one) => one.toUpperCase()))) addTo(owners, oui, maker);
  }
  return owners;
});
