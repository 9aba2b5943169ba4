import { keyNodes } from '../../../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../../../schemas/gen/records.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, BoardRecord, DriveRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { foldText } from '../text/fold.ts';
import { findRevision } from './swap.ts';

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
export function* comparableTexts(record: AnyRecord, snapshot: Snapshot): Generator<ComparableText> {
  if (record.kind === 'drive') yield* textsOfDrive(record, snapshot);
  else if (record.kind === 'board') yield* textsOfBoard(record);
  else if (record.kind === 'rule' && record.data.when) yield* textsOfCondition(record.data.when, ['when']);
}

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

function* textsOfDrive({ data }: DriveRecord, snapshot: Snapshot): Generator<ComparableText> {
  yield* textsAt(data, driveKeys, []);
  const { board: own } = data;
  if (!own) return;
  const revision = findRevision(snapshot.find('board', own.id), own.rev);
  for (const text of textsAt(own, ownBoardKeys, ['board'])) {
    const listed = listedFor(text.key, revision);
    if (text.key === 'rev') {
      if (revision) yield { ...text, scope: own.id ?? '' };
    } else if (!listed || listed.some((value) => foldText(value) === foldText(text.value))) yield text;
  }
}

/** The markings a revision allows a part; undefined where it says nothing of that key. */
function listedFor(key: string, revision: ReturnType<typeof findRevision>): readonly string[] | undefined {
  const part = partKeys.find((name) => name === key);
  const listed = part && revision?.[part];
  return typeof listed === 'string' ? [listed] : listed;
}

function* textsOfBoard({ id, data }: BoardRecord): Generator<ComparableText> {
  for (const [position, revision] of (data.revisions ?? []).entries()) {
    const path: Path = ['revisions', position];
    for (const text of textsAt(revision, ['rev'], path)) yield { ...text, scope: id };
    yield* textsAt(revision, partKeys, path);
  }
}

function* textsOfCondition(condition: ConditionData, path: Path): Generator<ComparableText> {
  for (const side of ['patient', 'donor'] as const) {
    yield* textsAt(condition[side] ?? {}, conditionKeys, [...path, side]);
  }
  for (const group of ['all', 'any', 'none'] as const) {
    for (const [position, part] of (condition[group] ?? []).entries()) {
      yield* textsOfCondition(part, [...path, group, position]);
    }
  }
}

function* textsAt(map: object, keys: readonly string[], path: Path): Generator<ComparableText> {
  for (const key of keys) {
    const value = (map as Readonly<Record<string, unknown>>)[key];
    if (typeof value === 'string') yield { key, scope: '', value, path: [...path, key] };
    if (!Array.isArray(value)) continue;
    for (const [position, item] of value.entries()) {
      if (typeof item === 'string') yield { key, scope: '', value: item, path: [...path, key, position] };
    }
  }
}
