/**
 * What a trace adds to the identity rows of its outcome.
 * Laws (test/property/identity-intents.property.test.ts):
 * - what was recorded stays as it was
 * - every traced value stands in the rows afterwards
 * - a second time there is nothing to add
 * - a row that says otherwise is never written over
 */
import type { OutcomeIdentityData } from '../../../../schemas/gen/records.ts';
import type { Intent, Value } from '../edits/intent.ts';
import { isRefusal, type Refusal } from '../edits/text-edit.ts';
import { hasUnusable, type OutcomeRecord } from '../model/record.ts';
import { isFullSerial } from '../terms/same-serial.ts';
import { captureColumns } from './assembly.ts';
import { isSameReport } from './follows.ts';
import type { TracedValue, TraceResult } from './trace.ts';

/** An outcome and the position of its document in its file, from 0. */
interface PlacedOutcome {
  readonly outcome: OutcomeRecord;
  readonly document: number;
}

/**
 * Rows for values that have none, and columns for rows that lack them; empty where everything stands there. Refused where a row says
 * otherwise than the captures, or the captures are at fault.
 */
export function identityIntents(
  { outcome, document }: PlacedOutcome,
  { values, problems }: TraceResult,
): readonly Intent[] | Refusal {
  const fault = problems.find(({ severity }) => severity === 'error');
  if (fault) return { refused: `The captures cannot be relied on. ${fault.message}` };
  if (hasUnusable(outcome, 'identity')) {
    return {
      refused: `Something in \`identity\` of outcome \`${outcome.id}\` cannot be used; that has to be mended first.`,
    };
  }
  const rows = outcome.data.identity ?? [];
  const parts = values.map((traced) => partsOf(traced, rows));
  const refused = parts.filter(isRefusal);
  if (refused.length > 0) return { refused: refused.map((one) => one.refused).join(' ') };
  const done = parts.filter((part): part is Parts => !isRefusal(part));
  const added = done.flatMap(({ row }) => row ?? []);
  const set = (path: readonly (string | number)[], value: Value): Intent => ({ intent: 'set', document, path, value });
  const columns = done.flatMap((part) => part.columns.map(({ path, value }) => set(['identity', ...path], value)));
  if (added.length === 0) return columns;
  if (outcome.data.identity === undefined) return [...columns, set(['identity'], added)];
  return [
    ...columns,
    ...added.map(
      (value, position): Intent => ({
        intent: 'insert',
        document,
        path: ['identity', rows.length + position],
        value,
      }),
    ),
  ];
}

/** What is to be added for one value. */
interface Parts {
  readonly columns: readonly { readonly path: readonly (string | number)[]; readonly value: Value }[];
  /** A whole row, where there is none. */
  readonly row?: { readonly [key: string]: Value };
}

function partsOf(traced: TracedValue, rows: readonly OutcomeIdentityData[]): Parts | Refusal {
  const { value } = traced;
  const reports = captureColumns.flatMap(({ role, column }) => {
    const reported = traced[role];
    return reported === undefined ? [] : [{ column, reported }];
  });
  const ofValue = [...rows.entries()].filter(([, row]) => row.value === value);
  for (const { column, reported } of reports) {
    const other = ofValue.find(([, row]) => isSameReport(value, row[column], reported) === false)?.[1][column];
    if (other !== undefined) return { refused: disagreement(traced, column, { recorded: other, reported }) };
  }
  const [first] = ofValue;
  if (!first)
    return {
      columns: [],
      row: { value, ...Object.fromEntries(reports.map(({ column, reported }) => [column, reported])) },
    };
  const missing = reports.filter(({ column }) => ofValue.every(([, row]) => row[column] === undefined));
  return { columns: missing.map(({ column, reported }) => ({ path: [first[0], column], value: reported })) };
}

function disagreement(
  { value }: TracedValue,
  column: string,
  { recorded, reported }: { readonly recorded: string | number; readonly reported: string | number },
): string {
  const isSecret = value === 'serial' && isFullSerial(String(recorded));
  const said = isSecret ? 'is recorded as another' : `is recorded as \`${recorded}\``;
  return `\`${value}\` in \`${column}\` ${said}, but the capture reports \`${reported}\`.`;
}
