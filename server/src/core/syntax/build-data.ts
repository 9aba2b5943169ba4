import { resolvePlain, type ScalarValue } from './core-schema.ts';
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
  const { data } = builder.build(root);
  const { tooLarge, faults } = builder;
  return tooLarge ? { data: undefined, faults: [...faults, tooLarge] } : { data, faults };
}

interface Part {
  readonly data: Data;
  /** Values in it once every alias is written out. */
  readonly values: number;
  /** Those of them that an alias repeats. */
  readonly repeated: number;
}

/**
 * A map without inherited keys. Unlike what `Object.create(null)` gives, maps made so share their layout, which takes half the memory.
 */
const BareMap = function BareMap() {} as unknown as new () => Record<string, Data>;
BareMap.prototype = Object.create(null);

class Builder {
  readonly faults: SyntaxFault[] = [];
  /** Kept apart from the other faults, some of which are taken back. */
  tooLarge: SyntaxFault | undefined;
  /** Above 0 inside a key of the shop's own, whose values no schema looks at. */
  private ownKeys = 0;
  private readonly aliased = new Map<number, Part>();
  private readonly aliasedInOwn = new Map<number, Part>();

  constructor(private readonly tape: Tape) {}

  build(index: number): Part {
    const entry = this.tape.entries[index];
    if (!entry) return { data: null, values: 1, repeated: 0 };
    this.checkTag(entry);
    switch (entry.kind) {
      case 'map':
        return this.guard(entry, this.buildMap(index));
      case 'list':
        return this.guard(entry, this.buildList(index));
      case 'alias':
        return this.buildAlias(entry);
      default:
        return { data: this.buildScalar(entry), values: 1, repeated: 0 };
    }
  }

  /** An alias gives the very same object each time, so a file of nested aliases costs no more than its text. */
  private buildAlias(entry: TapeEntry): Part {
    const aliased = this.ownKeys > 0 ? this.aliasedInOwn : this.aliased;
    const known = aliased.get(entry.target);
    if (known) return known;
    const faultsBefore = this.faults.length;
    const { data, values } = this.build(entry.target);
    const part = { data, values, repeated: values };
    // What is wrong inside the repeated value was said where it stands.
    this.faults.length = faultsBefore;
    aliased.set(entry.target, part);
    return part;
  }

  private buildMap(index: number): Part {
    const data: Record<string, Data> = new BareMap();
    const seen = new Map<string, TapeEntry>();
    let values = 1;
    let repeated = 0;
    for (const child of childrenOf(this.tape, index)) {
      const entry = this.tape.entries[child];
      if (entry?.key === undefined) continue;
      const first = seen.get(entry.key);
      if (first) {
        this.faults.push(duplicateKey(entry.key, entry, first));
        continue;
      }
      seen.set(entry.key, entry);
      const part = entry.key.startsWith('x-') ? this.buildOwn(child) : this.build(child);
      values += part.values;
      repeated += part.repeated;
      if (!isEmpty(part.data)) data[entry.key] = part.data;
    }
    return { data, values, repeated };
  }

  private buildOwn(index: number): Part {
    this.ownKeys++;
    const part = this.build(index);
    this.ownKeys--;
    return part;
  }

  /** The schemas refuse `.nan` and `.inf`, which JSON cannot hold; where no schema looks they stay text. */
  private buildScalar(entry: TapeEntry): ScalarValue {
    const data = scalarData(entry);
    return this.ownKeys > 0 && typeof data === 'number' && !Number.isFinite(data) ? entry.text : data;
  }

  private buildList(index: number): Part {
    const data: Data[] = [];
    let values = 1;
    let repeated = 0;
    for (const child of childrenOf(this.tape, index)) {
      const part = this.build(child);
      values += part.values;
      repeated += part.repeated;
      data.push(part.data);
    }
    return { data, values, repeated };
  }

  private guard(entry: TapeEntry, part: Part): Part {
    if (part.repeated <= limits.repeatedValues || this.tooLarge) return part;
    const most = limits.repeatedValues.toLocaleString('en-GB');
    const reason = `Aliases repeat more than ${most} values in this.`;
    this.tooLarge = { kind: 'too-deep', start: entry.start, end: Math.min(entry.end, entry.start + 1), reason };
    return part;
  }

  private checkTag(entry: TapeEntry): void {
    if (entry.tag === undefined || coreTags.has(entry.tag)) return;
    const reason = `The tag \`${entry.tag}\` has no meaning in these files.`;
    this.faults.push({ kind: 'syntax', start: entry.start, end: entry.end, reason });
  }
}

const tagPrefix = 'tag:yaml.org,2002:';
const coreTags: ReadonlySet<string> = new Set([
  '!',
  ...['str', 'int', 'float', 'bool', 'null', 'map', 'seq'].map((name) => tagPrefix + name),
]);

function scalarData(entry: TapeEntry): ScalarValue {
  const value = scalarValue(entry);
  return typeof value === 'string' ? detached(value) : value;
}

/** A text that does not keep the whole file in memory, as engines let a longer part of a text do. */
function detached(text: string): string {
  return text.length < 13 ? text : ` ${text}`.slice(1);
}

function scalarValue(entry: TapeEntry): ScalarValue {
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
