import type { KeyRow } from '../../../../schemas/gen/key-table.ts';
import {
  board,
  capture,
  config,
  drive,
  family,
  maker,
  mapping,
  outcome,
  rule,
  type Validate,
} from '../../../../schemas/gen/validators.js';
import type { Data } from '../syntax/build-data.ts';
import { findEntry, type Path, type Tape } from '../syntax/tape.ts';
import { valueAt } from '../syntax/value-at.ts';
import type { Kind } from '../terms/kinds.ts';
import { firstLine } from '../text/first-line.ts';
import { nearNames } from '../text/near-names.ts';
import { findKeyRow, keyRowsIn } from './key-rows.ts';
import type { SchemaFault, SchemaProblem } from './schema-fault.ts';

/** A document as the schema check sees it: its data, and its text for quoting values as typed. */
export interface Subject {
  readonly kind: Kind | 'config' | 'capture' | 'mapping';
  readonly data: Data;
  readonly tape: Tape;
  readonly root: number;
}

const validators: Readonly<Record<Subject['kind'], Validate>> = {
  board,
  capture,
  config,
  drive,
  family,
  maker,
  mapping,
  outcome,
  rule,
};

type ValidatorError = NonNullable<Validate['errors']>[number];

/** What the schema of its kind does not allow in a document: one fault for each key or value at fault, in the schema's order. */
export function validate(subject: Subject): SchemaFault[] {
  const check = validators[subject.kind];
  if (check(subject.data)) return [];
  const faults = new Map<string, SchemaFault>();
  // `if` only says that its branch failed, which the branch's own errors say better.
  const errors = (check.errors ?? []).filter((error) => error.keyword !== 'if');
  for (const error of errors) {
    const fault = toFault(subject, error);
    const name = JSON.stringify(fault.path);
    if (!faults.has(name)) faults.set(name, fault);
  }
  return [...faults.values()];
}

function toFault(subject: Subject, error: ValidatorError): SchemaFault {
  const path = toPath(error.instancePath, subject.data);
  switch (error.keyword) {
    case 'additionalProperties':
      return unknownKey(subject.kind, path, String(error.params['additionalProperty']));
    case 'required': {
      const missing = [...path, String(error.params['missingProperty'])];
      const row = findKeyRow(subject.kind, missing);
      return { kind: 'schema', path: missing, problem: { what: 'missing', expected: expectedOf(row) } };
    }
    default:
      return { kind: 'schema', path, problem: refusedValue(subject, path, error) };
  }
}

function unknownKey(node: string, path: Path, key: string): SchemaFault {
  const rows = [...keyRowsIn(node, path)].sort((a, b) => Number(b.required) - Number(a.required));
  const known = rows.map((row) => row.name);
  return { kind: 'unknown-key', path: [...path, key], near: nearNames(key, known), known };
}

function refusedValue(subject: Subject, path: Path, error: ValidatorError): SchemaProblem {
  const value = valueAt(subject.data, path);
  const typed = typedAt(subject, path);
  const isPlain = typeof value === 'number' || typeof value === 'boolean';
  if (error.keyword === 'type' && isPlain && toList(error.params['type']).includes('string')) {
    return { what: 'unquoted', typed, readAs: typeof value === 'number' ? `the number ${value}` : `\`${value}\`` };
  }
  const row = findKeyRow(subject.kind, path);
  const names = (row?.values ?? []).map((entry) => entry.value);
  const near = typeof value === 'string' ? nearNames(value, names) : [];
  return { what: 'refused', typed, expected: expectedFor(error, row, path), near };
}

function expectedFor(error: ValidatorError, row: KeyRow | undefined, path: Path): string {
  const limit = String(error.params['limit']);
  switch (error.keyword) {
    case 'minimum':
      return `a number of at least ${limit}`;
    case 'exclusiveMinimum':
      return `a number above ${limit}`;
    case 'maximum':
      return `a number of at most ${limit}`;
    case 'exclusiveMaximum':
      return `a number below ${limit}`;
    case 'minItems':
      return `a list with at least ${limit} ${limit === '1' ? 'entry' : 'entries'}`;
    default:
      return typeof path.at(-1) === 'number' ? itemExpectedOf(row) : expectedOf(row);
  }
}

/** Completes "… is needed" for the value of a key. */
function expectedOf(row: KeyRow | undefined): string {
  const item = itemExpectedOf(row);
  if (row?.list === 'yes') return `a list (each entry ${item})`;
  return row?.list === 'either' ? `${item}, or a list of such,` : item;
}

const typeWords: Readonly<Record<KeyRow['type'], string>> = {
  text: 'text',
  integer: 'a whole number',
  number: 'a number',
  boolean: '`true` or `false`',
  map: 'a map of keys',
  mixed: 'a single value or a map of keys',
};

function itemExpectedOf(row: KeyRow | undefined): string {
  if (!row) return 'another value';
  if (row.expected !== undefined) return row.expected;
  const values = row.values?.map((entry) => `\`${entry.value}\``);
  if (!values?.length) return typeWords[row.type];
  return values.length === 1 ? values.join('') : `one of ${values.join(', ')}`;
}

function toPath(pointer: string, data: Data): Path {
  const path: (string | number)[] = [];
  let value: unknown = data;
  for (const raw of pointer.split('/').slice(1)) {
    const name = raw.replaceAll('~1', '/').replaceAll('~0', '~');
    const step = Array.isArray(value) ? Number(name) : name;
    path.push(step);
    value = (value as Record<string | number, unknown>)[step];
  }
  return path;
}

/** The value as typed, shortened to one line; the line of a map or list is cut where it goes on. */
function typedAt(subject: Subject, path: Path): string {
  const { entry, depth } = findEntry(subject.tape, subject.root, path);
  const found = subject.tape.entries[entry];
  if (!found || (depth < path.length && found.kind !== 'alias')) return '';
  const line = firstLine(subject.tape.text.slice(found.start, found.end));
  return line.length > 60 ? `${line.slice(0, 57)}...` : line;
}

function toList(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : String(value).split(',');
}
