/**
 * Whole bases for measuring: valid, consistent with their own rules, and the same for the same seed.
 * Laws (test/bench/base.test.ts):
 * - a base without planted faults gives no error and no warning
 * - a base with planted faults gives exactly those
 * - the same seed gives the same bytes
 * - a base and its twin hold the same records in nearly the same number of bytes
 */
import type { Kind } from '../../../server/src/core/terms/kinds.ts';
import { type Planted, plantFaults } from './faults.ts';
import { Random } from './random.ts';
import { type RecordWriter, withPlainMoments, withQuotedMoments } from './record-writer.ts';
import { makeRules, type Rule } from './rules.ts';
import { type Counts, membersOf } from './sizes.ts';
import { hasMatchingPair, makeSwaps } from './swaps.ts';
import type { Maker } from './things.ts';
import { type Clan, makeClan, makeMakers } from './world.ts';
import { writeOutcome } from './write-outcome.ts';
import { writeBoard, writeDrive, writeFamily, writeMaker, writeRule } from './write-records.ts';

/** Changes whenever the same seed gives other bytes than before. */
export const generatorVersion = 3;

/** One record as text, its dates marked for quoting. */
export interface GeneratedRecord {
  readonly kind: Kind;
  readonly id: string;
  readonly markedText: string;
}

/** One file of a base, not yet as text. */
export interface GeneratedFile {
  readonly path: string;
  readonly records: readonly GeneratedRecord[];
  readonly lineEnd: '\n' | '\r\n';
}

export interface GeneratedBase {
  readonly files: readonly GeneratedFile[];
  /** The files without planted faults. */
  readonly soundFiles: readonly GeneratedFile[];
  readonly planted: readonly Planted[];
}

/** Name and text of a file. */
export interface TextFile {
  readonly path: string;
  readonly text: string;
}

/** The config of every generated base. */
export const configText = 'swaplore: 1\nname: Bench of a thousand drives\n';

/** A base of so many records, with so many planted faults. */
export function makeBase(counts: Counts, seed: string, faults = 0): GeneratedBase {
  const random = new Random(seed);
  const parts = Array.from({ length: counts.families }, (_, position) => makePart(random, counts, position));
  const files = counts.lines === undefined ? parts.flatMap((part) => part.files) : [oneFile(parts, counts.lines)];
  return { ...plantFaults(files, faults), soundFiles: files };
}

/** A file as a base holds it. */
export function toBaseFile({ path, records, lineEnd }: GeneratedFile): TextFile {
  const text = records.map((record) => record.markedText).join('---\n');
  return { path, text: withPlainMoments(text).replaceAll('\n', lineEnd) };
}

/** The same records for readers that take one document a file and no unquoted dates, each kind in a folder of its own. */
export function toTwinFiles({ records, lineEnd }: GeneratedFile): readonly TextFile[] {
  return records.map(({ kind, id, markedText }) => ({
    path: `${kind}/${id}.yaml`,
    text: withQuotedMoments(markedText).replaceAll('\n', lineEnd),
  }));
}

/** A family with the files that are about it. */
interface Part {
  readonly files: readonly GeneratedFile[];
}

function makePart(random: Random, counts: Counts, position: number): Part {
  const makers = makeMakers(random, counts);
  const clan = makeClan(random, counts, makers, position);
  const rules = makeRules(random, counts, clan.family, position).map((rule) =>
    rule.isBroken && !hasMatchingPair(clan) ? { ...rule, isBroken: false } : rule,
  );
  const own = random.fork(`part ${position}`);
  const outcomes = membersOf(position, counts.outcomes, counts.families).length;
  const swaps = makeSwaps(own, clan, rules, outcomes);
  const { family } = clan;
  const familyFile = toFile(own, `families/${family.maker.id}/${family.id}.yaml`, [
    ...(position === 0 ? makers.map((maker) => makerRecord(random, maker)) : []),
    ...clanRecords(own, clan),
    ...rules.map((rule) => ruleRecord(own, rule, swaps[0]?.id)),
  ]);
  const boardFiles = clan.boards.map((board) =>
    toFile(own, `boards/${family.maker.id}/${board.id}.yaml`, [
      toRecord('board', board.id, writeBoard(own.fork(`write ${board.id}`), board)),
    ]),
  );
  const outcomeFiles = swaps.map((swap) =>
    toFile(own, `outcomes/${family.id}/${swap.id}.yaml`, [
      toRecord('outcome', swap.id, writeOutcome(own.fork(`write ${swap.id}`), swap)),
    ]),
  );
  return { files: [familyFile, ...boardFiles, ...outcomeFiles] };
}

function clanRecords(random: Random, { family, drives }: Clan): readonly GeneratedRecord[] {
  return [
    toRecord('family', family.id, writeFamily(random.fork('write family'), family)),
    ...drives.map((drive) => toRecord('drive', drive.id, writeDrive(random.fork(`write ${drive.id}`), drive))),
  ];
}

function makerRecord(random: Random, maker: Maker): GeneratedRecord {
  return toRecord('maker', maker.id, writeMaker(random.fork(`write ${maker.id}`), maker));
}

function ruleRecord(random: Random, rule: Rule, breaker: string | undefined): GeneratedRecord {
  const excepted = rule.isBroken ? breaker : undefined;
  return toRecord('rule', rule.id, writeRule(random.fork(`write ${rule.id}`), rule, excepted));
}

function toRecord(kind: Kind, id: string, writer: RecordWriter): GeneratedRecord {
  return { kind, id, markedText: `${writer.lines.join('\n')}\n` };
}

function toFile(random: Random, path: string, records: readonly GeneratedRecord[]): GeneratedFile {
  return { path, records, lineEnd: random.fork(`lines of ${path}`).chance(0.05) ? '\r\n' : '\n' };
}

/** Everything in one file of exactly so many lines: as many records as fit, then comments. */
function oneFile(parts: readonly Part[], lines: number): GeneratedFile {
  const records: GeneratedRecord[] = [];
  let used = -1;
  const all = parts.flatMap((part) => part.files.flatMap((file) => file.records));
  for (const record of [
    ...all.filter(({ kind }) => kind !== 'outcome'),
    ...all.filter(({ kind }) => kind === 'outcome'),
  ]) {
    const height = record.markedText.split('\n').length;
    if (used + height > lines) break;
    records.push(record);
    used += height;
  }
  const last = records.pop();
  if (!last) throw new RangeError(`No record fits into ${lines} lines`);
  const padding = '# end of this year\n'.repeat(lines - used);
  return { path: 'all.yaml', records: [...records, { ...last, markedText: last.markedText + padding }], lineEnd: '\n' };
}
