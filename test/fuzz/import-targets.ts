import { planImport } from '../../server/src/core/importing/plan-import.ts';
import { fitImportMap, readImportMap } from '../../server/src/core/importing/read-import-map.ts';
import { suggestMap } from '../../server/src/core/importing/suggest-map.ts';
import type { Table } from '../../server/src/core/importing/table.ts';
import { readTextFacts } from '../../server/src/core/model/file-facts.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { findTable, parseTable } from '../../server/src/host/disk/parse-table.ts';
import { drained } from '../harness/drained.ts';
import { messyBase, messyBytes, messyMap, messyTable } from '../harness/messy-table.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { agree, demand, isSentence } from './agree.ts';
import type { Target } from './target.ts';

const today = parseDate('2026-11-25') ?? 0;
const snapshot = snapshotOf(messyBase);
const encoder = new TextEncoder();
const table = tableOf(messyTable(1, 6).rows);

function tableOf(rows: Parameters<typeof messyBytes>[0]): Table {
  const parsed = parseTable(messyBytes(rows), {});
  if ('reason' in parsed) throw new Error(parsed.reason);
  return parsed;
}

/** Imports a table by a map where both can be used. */
function runImport(mapBytes: Uint8Array, rows: Table): void {
  const read = readImportMap(mapBytes);
  agree('a map again', readImportMap(Uint8Array.from(mapBytes)), read);
  const map = 'faults' in read ? read : fitImportMap(read, rows.headings);
  if ('faults' in map) {
    for (const { message, start, end } of map.faults) {
      demand(isSentence(message), 'a fault is a sentence', message);
      demand(0 <= start && start <= end && end <= read.tape.text.length, 'a fault has a place', [start, end]);
    }
    return;
  }
  const obstacleAt = (): undefined => undefined;
  const plan = drained(planImport({ map, table: rows, snapshot, today, obstacleAt, withSeen: (after) => after }));
  const { rows: counts, records, refusals } = plan;
  agree('rows by what became of them', counts.in + counts.refused + counts.empty, rows.rows.length);
  for (const { path, text, kind, id } of records) {
    const [placed, another] = readTextFacts(text).records;
    agree(`the record of ${path}`, [placed?.record.kind, placed?.record.id, another], [kind, id, undefined]);
  }
  for (const { reason } of refusals) demand(isSentence(reason), 'a refusal is a sentence', reason);
}

function runTable(bytes: Uint8Array): void {
  const parsed = parseTable(bytes, {});
  agree('a table again', parseTable(Uint8Array.from(bytes), {}), parsed);
  if (!('reason' in parsed)) runImport(encoder.encode(messyMap), parsed);
}

function runFound(bytes: Uint8Array): void {
  const found = findTable(bytes);
  if ('reason' in found) return;
  const read = readImportMap(encoder.encode(suggestMap({ ...found, snapshot })));
  demand(!('faults' in read), 'a proposed map can be read', 'faults' in read ? read.faults : []);
  const again = parseTable(bytes, found.settings);
  agree('the table by what was found out', again, found.table);
}

const asciiTable = 'Datum,Patient,Spender,Modell,S/N\n2024-01-02,117,118,TN-1,"a ""b"""\n03/04/24,,x,"1\n2",\n';

/** What reads tables of shops. */
export const importTargets: readonly Target[] = [
  {
    ...{ kind: 'bytes', name: 'import-map', mostBytes: 2_000, runsInSuite: 40, runs: 5_000, limitMs: 3_000 },
    feeds: 'maps, with a small table',
    holds: 'faults have places and words, every row is counted, every record that is made can be read',
    seeds: () => [encoder.encode(messyMap), encoder.encode(messyMap.slice(0, messyMap.indexOf('  - name: donor')))],
    run: (bytes: Uint8Array) => runImport(bytes, table),
  },
  {
    ...{ kind: 'bytes', name: 'import-table', mostBytes: 600, runsInSuite: 40, runs: 5_000, limitMs: 3_000 },
    feeds: 'tables, with a map',
    holds: 'the same',
    seeds: () => [2, 3, 4].map((seed) => messyBytes(messyTable(seed, 2).rows)),
    run: runTable,
  },
  {
    ...{ kind: 'bytes', name: 'suggest-map', mostBytes: 250, runsInSuite: 30, runs: 5_000, limitMs: 2_000 },
    feeds: 'tables nobody has said anything about',
    holds: 'the proposed map can be read, and what was found out reads the same table',
    seeds: () => [messyBytes(messyTable(2, 0).rows), encoder.encode(asciiTable)],
    run: runFound,
  },
];
