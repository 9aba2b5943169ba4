import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { exportTables } from '../../server/src/core/exporting/export-tables.ts';
import { heldReferences } from '../../server/src/core/exporting/held-references.ts';
import { keyColumns } from '../../server/src/core/exporting/key-columns.ts';
import { recordTables } from '../../server/src/core/exporting/record-tables.ts';
import type { ExportSource, Table } from '../../server/src/core/exporting/table.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { relations, ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { keyNodes } from '../../server/src/core/schema/key-rows.ts';
import { type Kind, kinds, pluralOf } from '../../server/src/core/terms/kinds.ts';
import { stages } from '../../server/src/core/terms/stages.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { arbitraryBase, type PlainBase } from '../harness/arbitrary-base.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

const tables = exportTables(keyNodes);
const today = 20_526;

function sourceOf(snapshot: Snapshot): ExportSource {
  return { snapshot, findings: findingsOf(drained(runChecks(snapshot, { today }))), today };
}

/** What a record says in words: every second one, so that these cannot be mistaken for one another. */
function notesOf(id: string): string | undefined {
  return /[13579]$/.test(id) ? `About ${id}.` : undefined;
}

function withNotes(base: PlainBase): PlainBase {
  const noted = kinds.map((kind) => [kind, base[kind].map((record) => ({ ...record, notes: notesOf(record.id) }))]);
  return { ...base, ...Object.fromEntries(noted) };
}

const sources = arbitraryBase.map((base) => sourceOf(snapshotOfBase(withNotes(base))));

function tableOf(name: string): Table {
  return tables.find((table) => table.name === name)!;
}

/** The cells of some columns of a table, row by row, in the order of these names. */
function cellsOf(name: string, names: readonly string[], source: ExportSource): unknown[][] {
  const { columns, rows } = tableOf(name);
  const places = names.map((wanted) => columns.findIndex((column) => column.name === wanted));
  return [...rows(source)].map((row) => places.map((at) => row[at]));
}

/** Texts, numbers and truth values in a value, as text. */
function leavesOf(value: unknown): string[] {
  if (value === null || value === undefined) return [];
  return typeof value === 'object' ? Object.values(value).flatMap(leavesOf) : [String(value)];
}

/** Whether a column of a table of a kind holds what stands in records. */
function isOfKey(kind: Kind, table: string, column: string): boolean {
  if (table !== pluralOf(kind)) return column !== kind && !column.endsWith('position');
  return column === 'own_keys' || keyColumns(keyNodes, kind).some(({ name }) => name === column && name !== 'id');
}

describe('exported tables', () => {
  it('every record that stands is one row of the table of its kind', () => {
    assertLaw(
      12,
      fc.property(sources, (source) => {
        for (const kind of kinds) {
          const ids = source.snapshot.records(kind).map(({ id }) => [id]);
          expect(cellsOf(pluralOf(kind), ['id'], source)).toEqual(ids);
        }
      }),
    );
  });

  it('every outcome that counts has one verdict at every stage, and stands to a rule as the results of the rule have it', () => {
    assertLaw(
      12,
      fc.property(sources, (source) => {
        const { snapshot } = source;
        const judged = allEvidence(snapshot).flatMap(({ outcome, verdicts }) =>
          stages.map(({ name }) => [outcome.id, name, verdicts[name].result, verdicts[name].isEligible]),
        );
        expect(cellsOf('verdicts', ['outcome', 'stage', 'result', 'is_eligible'], source)).toEqual(judged);
        const missing = allEvidence(snapshot).flatMap(({ outcome, verdicts }) =>
          stages.flatMap(({ name }) => verdicts[name].missing.map(({ what, says }) => [outcome.id, name, what, says])),
        );
        expect(cellsOf('verdict_missing', ['outcome', 'stage', 'what', 'says'], source)).toEqual(missing);
        const related = ruleResults(snapshot).flatMap((result) =>
          relations.flatMap((name) => result[name].map(({ outcome }) => [result.rule.record.id, outcome.id, name])),
        );
        expect(cellsOf('rule_results', ['rule', 'outcome', 'relation'], source)).toEqual(related);
      }),
    );
  });

  it('the columns of a key are never null, and no two rows hold the same', () => {
    assertLaw(
      12,
      fc.property(sources, (source) => {
        for (const { name, key } of tables) {
          const keys = cellsOf(name, key, source);
          expect(keys.flat().filter((cell) => cell === null || cell === undefined)).toEqual([]);
          expect(new Set(keys.map((cells) => JSON.stringify(cells))).size).toBe(keys.length);
        }
      }),
    );
  });

  it('every value of a record stands in the tables of its kind once', () => {
    assertLaw(
      12,
      fc.property(sources, (source) => {
        for (const kind of kinds) {
          const held = source.snapshot
            .records(kind)
            .flatMap(({ id, data: { kind: _, ...data } }) => [...leavesOf(data), ...leavesOf(notesOf(id))]);
          const shown = recordTables(keyNodes, kind).flatMap(({ name, columns, rows }) => {
            const places = [...columns.keys()].filter((at) => isOfKey(kind, name, columns[at]!.name));
            return [...rows(source)].flatMap((row) => places.flatMap((at) => leavesOf(row[at])));
          });
          expect(shown.sort()).toEqual(held.sort());
        }
      }),
    );
  });

  it('every reference that is said to hold leads to a row', () => {
    assertLaw(
      12,
      fc.property(sources, (source) => {
        for (const [name, references] of heldReferences(tables, source)) {
          for (const { column, table } of references) {
            const ids = new Set(cellsOf(table, ['id'], source).flat());
            const named = cellsOf(name, [column], source).flat();
            expect(named.filter((cell) => cell !== null && !ids.has(cell))).toEqual([]);
          }
        }
      }),
    );
  });
});
