import { keyNodes } from '../../../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../../../schemas/gen/records.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, BoardRecord, DriveRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { foldText } from '../text/fold.ts';
import { type RevisionData, sideOf } from './swap.ts';

/** A value of a comparable key that holds free text. */
export interface ComparableText {
  /** The comparable key. */
  readonly key: string;
  /** Values are compared within one scope only: the board's id for `rev`, else empty. */
  readonly scope: string;
  readonly value: string;
  readonly path: Path;
}

/**
 * The free texts a record gives for comparable keys, in conditions too. Left out are those that a check of their own holds against a
 * list: a revision its board does not name, and a drive's own marking that its revision does not.
 */
export function comparableTexts(record: AnyRecord, snapshot: Snapshot): readonly ComparableText[] {
  switch (record.kind) {
    case 'drive':
      return textsOfDrive(record, snapshot);
    case 'board':
      return textsOfBoard(record);
    case 'rule':
      return record.data.when ? textsOfCondition(record.data.when, ['when']) : none;
    default:
      return none;
  }
}

const none: readonly ComparableText[] = [];

/** Comparable keys of free text that stand in this map. References and fixed choices are checked as such. */
function textKeys(node: string): readonly string[] {
  return (keyNodes[node] ?? [])
    .filter((row) => row.comparableAs !== undefined && row.type === 'text' && !row.refersTo && !row.values)
    .map((row) => row.name);
}

const driveKeys = textKeys('drive');
const ownBoardKeys = textKeys('drive.board');
const conditionKeys = [...driveKeys, ...ownBoardKeys].filter((key) => key !== 'rev');
const partKeys = ['controller', 'motor_driver'] as const;

function textsOfDrive(drive: DriveRecord, snapshot: Snapshot): ComparableText[] {
  const texts = textsAt(drive.data, driveKeys, []);
  const { board: own } = drive.data;
  if (!own) return texts;
  const { revision } = sideOf(drive, snapshot);
  for (const text of textsAt(own, ownBoardKeys, ['board'])) {
    const listed = listedFor(text.key, revision);
    if (text.key === 'rev') {
      if (revision) texts.push({ ...text, scope: own.id ?? '' });
    } else if (!listed || listed.some((value) => foldText(value) === foldText(text.value))) texts.push(text);
  }
  return texts;
}

/** The markings a revision allows a part; undefined where it says nothing of that key. */
function listedFor(key: string, revision: RevisionData | undefined): readonly string[] | undefined {
  const part = partKeys.find((name) => name === key);
  const listed = part && revision?.[part];
  return typeof listed === 'string' ? [listed] : listed;
}

function textsOfBoard({ id, data }: BoardRecord): ComparableText[] {
  return (data.revisions ?? []).flatMap((revision, position) => {
    const path: Path = ['revisions', position];
    const names = textsAt(revision, ['rev'], path).map((text) => ({ ...text, scope: id }));
    return [...names, ...textsAt(revision, partKeys, path)];
  });
}

function textsOfCondition(condition: ConditionData, path: Path): ComparableText[] {
  const own = (['patient', 'donor'] as const).flatMap((side) =>
    textsAt(condition[side] ?? {}, conditionKeys, [...path, side]),
  );
  const inner = (['all', 'any', 'none'] as const).flatMap((group) =>
    (condition[group] ?? []).flatMap((part, position) => textsOfCondition(part, [...path, group, position])),
  );
  return [...own, ...inner];
}

function textsAt(map: object, keys: readonly string[], path: Path): ComparableText[] {
  const texts: ComparableText[] = [];
  for (const key of keys) {
    const value = (map as Readonly<Record<string, unknown>>)[key];
    if (typeof value === 'string') texts.push({ key, scope: '', value, path: [...path, key] });
    if (!Array.isArray(value)) continue;
    for (const [position, item] of value.entries()) {
      if (typeof item === 'string') texts.push({ key, scope: '', value: item, path: [...path, key, position] });
    }
  }
  return texts;
}
