import { describeFormula } from '../conditions/describe.ts';
import { findRevision, type RevisionData } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { pathInBase } from '../model/path-in-base.ts';
import { type AnyRecord, type BoardRecord, isRetracted } from '../model/record.ts';
import { toRule } from '../reasoning/rule.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import type { Path } from '../syntax/tape.ts';
import { claims } from '../terms/claims.ts';
import type { Kind } from '../terms/kinds.ts';
import { capitalise } from '../text/capitalise.ts';
import { inSentence } from '../text/in-sentence.ts';
import { baseBlock, standingLine } from './hover-base-says.ts';
import { type HoverBlock, type HoverFact, type Phrase, phrase } from './hover-blocks.ts';
import { identitySummary } from './identity-lines.ts';
import type { OpenFile } from './open-file.ts';
import { oddsLine } from './pair-lines.ts';
import { valuesAt } from './value-counts.ts';
import { verdictFacts } from './verdict-facts.ts';

/**
 * The keys by which a record of a kind is known, in the order they are shown; list positions are left out. What stands on one line is
 * called by the title of the first.
 */
const telling: Readonly<Record<Kind, readonly (readonly Path[])[]>> = {
  maker: [[['name']], [['ouis']], [['date_code', 'format']]],
  family: [
    ...[[['name']], [['maker']], [['interface'], ['form_factor']], [['adaptives', 'stored_in']]],
    ...[[['encryption'], ['key_in']], [['host_needs']]],
  ],
  board: [[['part_number']], [['maker']], [['families']], [['revisions', 'rev']]],
  drive: [
    ...[
      [['family']],
      [['model']],
      [
        ['board', 'id'],
        ['board', 'rev'],
      ],
      [['made']],
      [['parts']],
    ],
    ...[[['condition', 'board']], [['condition', 'media']], [['data']], [['shelf', 'place']]],
  ],
  outcome: [[['date']], [['patient']], [['donor']], [['rom'], ['rom_from']], [['reached']], [['result']]],
  rule: [[['applies_to', 'families']], [['at_least']], [['basis']], [['because']]],
};

/** Values of one key that are shown. */
const mostValues = 10;

const revisionKeys = ['controller', 'motor_driver', 'contact_pads', 'drop_in_for'] as const;
const romKeys = ['location', 'package', 'bytes', 'volts', 'holds'] as const;

/** A record in brief: what it is known by, its photos, and what the base makes of it once that is indexed. */
export function recordBlocks(
  record: AnyRecord,
  { snapshot, isIndexed }: Pick<OpenFile, 'snapshot' | 'isIndexed'>,
): readonly HoverBlock[] {
  const facts = telling[record.kind].flatMap((line) =>
    lineOf(line.flatMap((keys) => factAt(record.kind, record.data, keys))),
  );
  return [
    { kind: 'title', name: capitalise(record.kind), typed: record.id, note: retractedNote(record) },
    ...factsBlock([
      ...factAt(record.kind, record.data, ['retracted', 'because']),
      ...claimFacts(record, snapshot),
      ...facts,
    ]),
    ...photoBlocks(record.data.photos, record, snapshot),
    ...(isIndexed ? ofBase(record, snapshot) : []),
  ];
}

/** A revision of a board in brief; nothing where the board lists none of that name. */
export function revisionBlocks(board: BoardRecord, rev: string, { snapshot }: OpenFile): readonly HoverBlock[] {
  const revision = findRevision(board, rev);
  if (!revision) return [];
  const parts = revisionKeys.flatMap((key) => factAt('board', { revisions: revision }, ['revisions', key]));
  const facts = [{ label: 'Board', text: phrase`${board.id}` }, ...parts, ...romFacts(revision)];
  return [
    { kind: 'title', name: 'Revision', typed: `${board.id}/${revision.rev}`, note: retractedNote(board) },
    ...factsBlock(facts),
    ...photoBlocks(revision.photos, board, snapshot),
  ];
}

function factsBlock(facts: readonly HoverFact[]): readonly HoverBlock[] {
  return facts.length === 0 ? [] : [{ kind: 'facts', facts }];
}

/** The fact under a key, labelled as the schema calls it; nothing where it is not recorded. */
function factAt(kind: Kind, data: unknown, keys: Path): readonly HoverFact[] {
  const values = valuesAt(data, keys);
  const row = findKeyRow(kind, keys);
  if (values.length === 0 || !row) return [];
  const isProse = row.name === 'because';
  const texts = values
    .slice(0, mostValues)
    .map(shortened)
    .map((value): Phrase => (isProse ? [{ quoted: value }] : phrase`${value}`));
  const left = values.length > texts.length ? [` and ${values.length - texts.length} more`] : [];
  const unit = row.unit === undefined ? [] : [` ${row.unit}`];
  return [{ label: row.title, text: [...inCommas(texts), ...left, ...unit] }];
}

/** Facts on one line: the label of the first, and before each other its own. */
function lineOf(facts: readonly HoverFact[]): readonly HoverFact[] {
  const [first, ...others] = facts;
  if (!first) return [];
  const parts = others.map(({ label, text }): Phrase => [`${inSentence(label)} `, ...text]);
  return [{ label: first.label, text: inCommas([first.text, ...parts]) }];
}

function romFacts({ roms = [] }: RevisionData): readonly HoverFact[] {
  return roms.flatMap((rom) => {
    const parts = romKeys.flatMap((key) => factAt('board', { revisions: { roms: rom } }, ['revisions', 'roms', key]));
    const text = inCommas(parts.map((part) => part.text));
    return text.length === 0 ? [] : [{ label: 'ROM', text }];
  });
}

function inCommas(parts: readonly Phrase[]): Phrase {
  return parts.flatMap((part, position) => (position === 0 ? part : [', ', ...part]));
}

/** What a rule claims, as a sentence; nothing where it cannot be applied. */
function claimFacts(record: AnyRecord, { config }: Snapshot): readonly HoverFact[] {
  const rule = record.kind === 'rule' ? toRule(record, config.worksAt) : undefined;
  const reads = claims.find(({ name }) => name === rule?.claim)?.reads;
  if (!rule || reads === undefined) return [];
  const text = phrase`at ${rule.stage} a swap ${[reads]} ${describeFormula(rule.when)}`;
  return [{ label: findKeyRow('rule', ['claim'])?.title ?? '', text }];
}

function ofBase(record: AnyRecord, snapshot: Snapshot): readonly HoverBlock[] {
  switch (record.kind) {
    case 'family':
      return baseBlock([...oddsLine(record.id, snapshot), ...identitySummary(record.id, snapshot)]);
    case 'rule':
      return baseBlock(standingLine(record, snapshot));
    case 'outcome':
      return factsBlock(verdictFacts(record, snapshot));
    default:
      return [];
  }
}

/** Photos that lie inside the base, by their paths in it. */
function photoBlocks(
  photos: AnyRecord['data']['photos'],
  record: AnyRecord,
  snapshot: Snapshot,
): readonly HoverBlock[] {
  const { path: recordFile } = snapshot.locate(record).file;
  return (photos ?? []).slice(0, mostPhotos).flatMap(({ file, shows }): readonly HoverBlock[] => {
    const path = file === undefined ? undefined : pathInBase(recordFile, file);
    return path === undefined ? [] : [{ kind: 'photo', path, shows }];
  });
}

const mostPhotos = 3;

function retractedNote(record: AnyRecord): string | undefined {
  return isRetracted(record) ? 'retracted' : undefined;
}

/** A text that would fill a hover, cut at a word. */
function shortened(text: string): string {
  return text.length <= longest ? text : `${text.slice(0, text.lastIndexOf(' ', longest) + 1 || longest).trimEnd()} …`;
}

const longest = 300;
