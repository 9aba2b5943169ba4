import fc from 'fast-check';
import { expect, it } from 'vitest';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import type { ValueMap } from '../../server/src/core/edits/intent.ts';
import type { ImportMap } from '../../server/src/core/importing/import-map.ts';
import { mergeSaid } from '../../server/src/core/importing/merge-values.ts';
import { type ImportPlan, planImport } from '../../server/src/core/importing/plan-import.ts';
import { isDateForm, readDate } from '../../server/src/core/importing/read-date.ts';
import { fitImportMap, readImportMap } from '../../server/src/core/importing/read-import-map.ts';
import { readNumber } from '../../server/src/core/importing/read-number.ts';
import { suggestMap } from '../../server/src/core/importing/suggest-map.ts';
import type { Table } from '../../server/src/core/importing/table.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { dayOf } from '../../server/src/core/terms/calendar.ts';
import { parseTable } from '../../server/src/host/disk/parse-table.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { messyBase, messyBytes, messyMap, messyTable } from '../harness/messy-table.ts';
import { fileOf, snapshotOf } from '../harness/snapshot-of.ts';

const today = dayOf(2026, 11, 26) ?? 0;
const base = snapshotOf(messyBase);

/** Rows of a messy table in some order. */
const arbitraryRows = fc
  .record({
    seed: fc.nat(10_000),
    count: fc.integer({ min: 5, max: 40 }),
    swaps: fc.array(fc.nat(10_000), { maxLength: 20 }),
  })
  .map(({ seed, count, swaps }) => {
    const { rows } = messyTable(seed, count);
    const shuffled = [...rows];
    for (const [at, swap] of swaps.entries()) {
      const [a, b] = [at % shuffled.length, swap % shuffled.length];
      [shuffled[a], shuffled[b]] = [shuffled[b]!, shuffled[a]!];
    }
    return { rows, shuffled };
  });

function tableOf(rows: readonly { readonly cells: readonly string[] }[]): Table {
  const table = parseTable(messyBytes(rows), {});
  if ('reason' in table) throw new Error(table.reason);
  return table;
}

function mapFor(table: Table, text: string): ImportMap {
  const read = readImportMap(new TextEncoder().encode(text));
  if ('faults' in read) throw new Error(JSON.stringify(read.faults));
  const map = fitImportMap(read, table.headings);
  if ('faults' in map) throw new Error(JSON.stringify(map.faults));
  return map;
}

function planOf(table: Table, snapshot: Snapshot = base): ImportPlan {
  const map = mapFor(table, messyMap);
  return drained(planImport({ map, table, snapshot, today, obstacleAt: () => undefined, withSeen: (after) => after }));
}

/** Texts by path. */
function textsOf({ records }: ImportPlan): Readonly<Record<string, string>> {
  return Object.fromEntries(records.map(({ path, text }) => [path, text]));
}

function after(plan: ImportPlan): Snapshot {
  return base.with(plan.records.map(({ path, text }) => ({ path, file: fileOf(path, text) })));
}

it('rows in any order come to the same records', () => {
  assertLaw(
    15,
    fc.property(arbitraryRows, ({ rows, shuffled }) => {
      expect(textsOf(planOf(tableOf(shuffled)))).toEqual(textsOf(planOf(tableOf(rows))));
    }),
  );
});

it('a second run writes nothing and refuses the same rows', () => {
  assertLaw(
    15,
    fc.property(arbitraryRows, ({ shuffled }) => {
      const table = tableOf(shuffled);
      const first = planOf(table);
      const second = planOf(table, after(first));
      expect(second).toEqual({ ...first, records: [], here: first.records.length });
    }),
  );
});

it('without the rows that were refused the same records come out', () => {
  assertLaw(
    15,
    fc.property(arbitraryRows, ({ shuffled }) => {
      const table = tableOf(shuffled);
      const first = planOf(table);
      const refused = new Set(first.refusals.map(({ row }) => row));
      const rest = planOf({ ...table, rows: table.rows.filter(({ row }) => !refused.has(row)) });
      expect(rest).toEqual({ ...first, refusals: [], rows: { ...first.rows, refused: 0 } });
    }),
  );
});

it('what is written brings no error into the base', () => {
  assertLaw(
    15,
    fc.property(arbitraryRows, ({ shuffled }) => {
      const found = findingsOf(drained(runChecks(after(planOf(tableOf(shuffled))), { today })));
      expect(found.filter(({ severity }) => severity === 'error')).toEqual([]);
    }),
  );
});

const arbitraryValue: fc.Arbitrary<ValueMap> = fc.record(
  {
    model: fc.constantFrom('NT10-21', 'nt10-21', 'NT10-22'),
    heads: fc.constantFrom(2, 4),
    board: fc.record(
      { id: fc.constantFrom('kestrel', 'merlin'), rev: fc.constantFrom('A1', 'A2') },
      { requiredKeys: [] },
    ),
    examined: fc.array(
      fc.record({ on: fc.constantFrom('2024-03-14', '2024-03-15'), repaired: fc.constantFrom('a', 'b') }),
      { maxLength: 2 },
    ),
  },
  { requiredKeys: [] },
);

it('in whatever order rows tell of a record, it comes to the same', () => {
  assertLaw(
    300,
    fc.property(fc.array(arbitraryValue, { minLength: 1, maxLength: 4 }), fc.nat(3), (values, turn) => {
      const turned = [...values.slice(turn % values.length), ...values.slice(0, turn % values.length)];
      const merged = (all: readonly ValueMap[]) => {
        const { value, conflicts } = mergeSaid(all.map((one) => ({ by: undefined, value: one })));
        return { value, conflicts: conflicts.map(({ path, sides }) => [path, sides.map((side) => side.value)]) };
      };
      expect(merged(turned)).toEqual(merged(values));
    }),
  );
});

/** Any day of two centuries, by JavaScript's own calendar. Source: ECMA-262, `Date.prototype.toISOString`, which is ISO 8601. */
const arbitraryDay = fc
  .integer({ min: Date.UTC(1969, 0, 1) / 86_400_000, max: Date.UTC(2068, 11, 31) / 86_400_000 })
  .map((day) => new Date(day * 86_400_000).toISOString().slice(0, 10));

const arbitraryForm = fc
  .tuple(
    fc.shuffledSubarray(['Y', 'MM', 'DD'], { minLength: 3 }),
    fc.constantFrom('YYYY', 'YY'),
    fc.constantFrom('.', '-', '/', ' '),
  )
  .map(([parts, year, between]) => parts.map((part) => (part === 'Y' ? year : part)).join(between));

/** A day written in a form. */
function written(day: string, form: string): string {
  const [year = '', month = '', date = ''] = day.split('-');
  return form.replace('YYYY', year).replace('YY', year.slice(2)).replace('MM', month).replace('DD', date);
}

it('a date written in a form is read back from it', () => {
  assertLaw(
    500,
    fc.property(arbitraryDay, arbitraryForm, (day, form) => {
      expect(isDateForm(form)).toBe(true);
      expect(readDate(written(day, form), [form])).toEqual({ value: day });
    }),
  );
});

it('a date that two forms read differently is never read', () => {
  assertLaw(
    500,
    fc.property(arbitraryDay, fc.tuple(arbitraryForm, arbitraryForm), (day, forms) => {
      const text = written(day, forms[0]);
      const alone = forms.map((form) => readDate(text, [form])).flatMap((one) => ('value' in one ? one.value : []));
      const together = readDate(text, forms);
      if (new Set(alone).size === 1) expect(together).toEqual({ value: day });
      else expect(together).toHaveProperty('reason');
    }),
  );
});

const arbitraryNumber = fc
  .tuple(fc.integer({ min: -9_999_999, max: 9_999_999 }), fc.constantFrom(1, 10, 100, 1000, 10_000))
  .map(([digits, share]) => digits / share);

it('a number is read whichever sign its fraction has, if the map says which', () => {
  // Source: how `Intl` writes numbers in English and in German, from Unicode's CLDR.
  const forms = {
    point: new Intl.NumberFormat('en-GB', { maximumFractionDigits: 4 }),
    comma: new Intl.NumberFormat('de-DE', { maximumFractionDigits: 4 }),
  };
  assertLaw(
    500,
    fc.property(arbitraryNumber, fc.constantFrom('point', 'comma'), (number, decimal) => {
      expect(readNumber(forms[decimal].format(number), { decimal })).toEqual({ value: number });
    }),
  );
});

it('a number that both signs read differently is never read unless the map says which', () => {
  assertLaw(
    500,
    fc.property(arbitraryNumber, fc.constantFrom('en-GB', 'de-DE'), (number, language) => {
      const text = new Intl.NumberFormat(language, { maximumFractionDigits: 4 }).format(number);
      const [asPoint, asComma] = (['point', 'comma'] as const).map((decimal) => readNumber(text, { decimal }));
      const unsaid = readNumber(text, {});
      const readings = [asPoint, asComma].flatMap((one) => (one && 'value' in one ? one.value : []));
      if (new Set(readings).size === 1) expect(unsaid).toEqual({ value: number });
      else expect(unsaid).toHaveProperty('reason');
    }),
  );
});

const arbitraryHeading = fc.oneof(
  fc.constantFrom(
    'Patient',
    'Spender',
    'S/N',
    'Datum',
    'date',
    'patient',
    'Kapazität (TB)',
    'ROM',
    'Ergebnis',
    'Nr:4',
    'Bemerkung',
    'Made',
    'x{y}',
    '',
  ),
  fc.string({ unit: 'grapheme', maxLength: 10 }).map((text) => text.trim().replace(/\s+/g, ' ')),
);
const arbitraryCell = fc.oneof(
  fc.constantFrom(
    '',
    '-',
    '?',
    '14.03.2024',
    '03/04/24',
    '1,5',
    '1.500',
    'ja',
    'nein',
    'ok',
    'Liest',
    '# x',
    'a: b',
    '"',
    'true',
  ),
  fc.string({ unit: 'grapheme', maxLength: 12 }),
);

it('a proposed map fits the table it was proposed for', () => {
  assertLaw(
    200,
    fc.property(
      fc
        .array(arbitraryHeading, { minLength: 1, maxLength: 8 })
        .filter((headings) => headings.some((one) => /^[\p{L}\d]+$/u.test(one))),
      fc.array(fc.array(arbitraryCell, { minLength: 8, maxLength: 8 }), { maxLength: 6 }),
      (headings, cells) => {
        const rows = cells.map((row, at) => ({ row: at + 2, line: at + 2, cells: row.slice(0, headings.length) }));
        const table = { headings, rows };
        expect(mapFor(table, suggestMap({ table, settings: {}, snapshot: base })).records.length).toBeGreaterThan(0);
      },
    ),
  );
});
