import { inThousands } from '../text/in-thousands.ts';
import { sharedPart } from '../text/shared-text.ts';
import { bareMap } from './bare-map.ts';
import { resolvePlain, type ScalarValue } from './core-schema.ts';
import { keptList } from './kept-list.ts';
import { limits } from './limits.ts';
import type { SyntaxFault } from './syntax-fault.ts';
import { childrenOf, type Tape, type TapeEntry } from './tape.ts';

/** A value as the schemas see it. Maps have no prototype surprises: keys such as `__proto__` are plain entries. */
export type Data = ScalarValue | readonly Data[] | DataMap;

/** A map as the schemas see it. */
export interface DataMap {
  readonly [key: string]: Data;
}

/** The value of a document and the faults of form that no schema can see. */
export interface Built {
  /** Undefined where the document is too large once its aliases are written out. */
  readonly data: Data | undefined;
  readonly faults: readonly SyntaxFault[];
}

/**
 * The data of the entry `root` and all below it. Keys without a value are left out (an empty value counts as absent), of keys
 * given twice the first counts, and empty list items stay as null so that positions in data and text agree.
 */
export function buildData(tape: Tape, root: number): Built {
  const builder = new Builder(tape);
  const data = builder.build(root);
  const { tooLarge, faults } = builder;
  return tooLarge ? { data: undefined, faults: [...faults, tooLarge] } : { data, faults };
}

/** A repeated value, and how many values are in it once every alias is written out. */
interface Repeated {
  readonly data: Data;
  readonly values: number;
}

class Builder {
  readonly faults: SyntaxFault[] = [];
  /** Kept apart from the other faults, some of which are taken back. */
  tooLarge: SyntaxFault | undefined;
  /** Values so far, every alias written out. */
  private values = 0;
  /** Those of them that stand there by alias. */
  private repeated = 0;
  /** Above 0 inside a key of the shop's own, whose values no schema looks at. */
  private ownKeys = 0;
  private readonly aliased = new Map<number, Repeated>();
  private readonly aliasedInOwn = new Map<number, Repeated>();

  constructor(private readonly tape: Tape) {}

  build(index: number): Data {
    const entry = this.tape.entries[index];
    if (entry?.tag !== undefined) this.checkTag(entry, entry.tag);
    if (entry?.kind === 'alias') return this.buildAlias(entry);
    this.values++;
    if (!entry) return null;
    if (entry.kind !== 'map' && entry.kind !== 'list') return this.buildScalar(entry);
    const repeatedBefore = this.repeated;
    const data = entry.kind === 'map' ? this.buildMap(index, entry) : this.buildList(index, entry);
    if (this.repeated - repeatedBefore > limits.repeatedValues) this.tooLarge ??= tooManyRepeated(entry);
    return data;
  }

  /** An alias gives the very same object each time, so a file of nested aliases costs no more than its text. */
  private buildAlias(entry: TapeEntry): Data {
    const aliased = this.ownKeys > 0 ? this.aliasedInOwn : this.aliased;
    const part = aliased.get(entry.target) ?? this.buildTarget(entry.target);
    aliased.set(entry.target, part);
    this.values += part.values;
    this.repeated += part.values;
    return part.data;
  }

  /** The value an alias repeats, counted by whoever asks for it. */
  private buildTarget(target: number): Repeated {
    const { values, repeated } = this;
    const faultsBefore = this.faults.length;
    const data = this.build(target);
    const part = { data, values: this.values - values };
    this.values = values;
    this.repeated = repeated;
    // What is wrong inside the repeated value was said where it stands.
    this.faults.length = faultsBefore;
    return part;
  }

  private buildMap(index: number, { skip }: TapeEntry): Data {
    const { entries } = this.tape;
    const data = bareMap<Data>(this.countIn(index, skip));
    /** Keys that are there without a value. */
    let emptyKeys: Set<string> | undefined;
    for (let child = index + 1; child < skip; ) {
      const entry = entries[child];
      if (!entry) break;
      const { key } = entry;
      if (key === undefined) {
        // Nothing: in a map every value has a key.
      } else if (data[key] !== undefined || emptyKeys?.has(key)) {
        this.faults.push(duplicateKey(key, entry, this.firstOf(index, key) ?? entry));
      } else {
        const value = key.startsWith('x-') ? this.buildOwn(child) : this.build(child);
        if (isEmpty(value)) emptyKeys = (emptyKeys ?? new Set()).add(key);
        else data[key] = value;
      }
      child = entry.skip;
    }
    return data;
  }

  private countIn(index: number, end: number): number {
    let count = 0;
    for (let child = index + 1; child < end; child = this.tape.entries[child]?.skip ?? end) count++;
    return count;
  }

  private firstOf(parent: number, key: string): TapeEntry | undefined {
    for (const child of childrenOf(this.tape, parent)) {
      if (this.tape.entries[child]?.key === key) return this.tape.entries[child];
    }
    return undefined;
  }

  private buildOwn(index: number): Data {
    this.ownKeys++;
    const data = this.build(index);
    this.ownKeys--;
    return data;
  }

  /** The schemas refuse `.nan` and `.inf`, which JSON cannot hold; where no schema looks they stay text. */
  private buildScalar(entry: TapeEntry): ScalarValue {
    const value = scalarValue(entry);
    if (typeof value === 'string') return sharedPart(value, 0, value.length);
    return this.ownKeys > 0 && typeof value === 'number' && !Number.isFinite(value) ? entry.text : value;
  }

  private buildList(index: number, { skip }: TapeEntry): Data {
    const data: Data[] = [];
    for (let child = index + 1; child < skip; child = this.tape.entries[child]?.skip ?? skip) {
      data.push(this.build(child));
    }
    return keptList(data);
  }

  private checkTag(entry: TapeEntry, tag: string): void {
    if (coreTags.has(tag)) return;
    const reason = `The tag \`${tag}\` has no meaning in these files.`;
    this.faults.push({ kind: 'syntax', start: entry.start, end: entry.end, reason });
  }
}

function tooManyRepeated({ start, end }: TapeEntry): SyntaxFault {
  const most = inThousands(limits.repeatedValues);
  const reason = `Aliases repeat more than ${most} values in this.`;
  return { kind: 'too-deep', start, end: Math.min(end, start + 1), reason };
}

const tagPrefix = 'tag:yaml.org,2002:';
const coreTags: ReadonlySet<string> = new Set([
  '!',
  ...['str', 'int', 'float', 'bool', 'null', 'map', 'seq'].map((name) => tagPrefix + name),
]);

/** What a scalar stands for, its tag considered; null for an empty one. */
export function scalarValue(entry: TapeEntry): ScalarValue {
  if (entry.tag === '!' || entry.tag === `${tagPrefix}str`) return entry.text;
  if (entry.tag?.startsWith(tagPrefix)) return resolvePlain(entry.text);
  if (entry.kind === 'empty') return null;
  return entry.kind === 'plain' ? resolvePlain(entry.text) : entry.text;
}

function isEmpty(data: Data): boolean {
  return data === null || data === '';
}

function duplicateKey(key: string, again: TapeEntry, first: TapeEntry): SyntaxFault {
  return {
    kind: 'duplicate-key',
    key,
    start: again.keyStart,
    end: again.keyEnd,
    firstStart: first.keyStart,
    firstEnd: first.keyEnd,
  };
}
