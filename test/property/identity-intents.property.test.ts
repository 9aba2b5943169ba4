import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { IdentityValue, OutcomeIdentityData } from '../../schemas/gen/records.ts';
import { captureColumns, tracedValues } from '../../server/src/core/captures/assembly.ts';
import { isSameReport } from '../../server/src/core/captures/follows.ts';
import { identityIntents } from '../../server/src/core/captures/identity-intents.ts';
import type { TracedValue } from '../../server/src/core/captures/trace.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, type Refusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import type { OutcomeRecord } from '../../server/src/core/model/record.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const reports: Readonly<Record<IdentityValue, readonly (string | number)[]>> = {
  serial: ['****4F2K', '****9Q1C'],
  wwn: ['5027ce1b9d229a27', '5027ce1cbd868eb8'],
  model: ['TNS2-500', 'TNS2: #1000'],
  firmware: ['1.02', '0007'],
  capacity: [976_773_168, 1_953_525_168],
  power_on_hours: [100, 101],
  defect_counts: [0, 3],
};

const columns = captureColumns.map(({ column }) => column);

/** Some columns of a row, its values in every case of the same two. */
function arbitraryRow<Key extends string>(keys: readonly Key[]) {
  return fc
    .constantFrom(...tracedValues)
    .chain((value) =>
      fc
        .record(Object.fromEntries(keys.map((key) => [key, fc.option(fc.constantFrom(...reports[value]))])))
        .map((row) => ({ value, ...Object.fromEntries(Object.entries(row).filter(([, report]) => report !== null)) })),
    );
}

const recorded = fc.array(arbitraryRow(columns) as fc.Arbitrary<OutcomeIdentityData>, { maxLength: 4 });

const traced = fc
  .uniqueArray(
    arbitraryRow(captureColumns.map(({ role }) => role)).map(
      (row) => ({ ...row, follows: 'not_known' }) as TracedValue,
    ),
    { selector: ({ value }) => value, minLength: 1, maxLength: 7 },
  )
  .map((values) => values.filter((row) => Object.keys(row).length > 2));

const styles = ['block', 'flow', 'none'] as const;

function outcomeText(rows: readonly OutcomeIdentityData[], style: (typeof styles)[number]): string {
  const head = 'kind: outcome\nid: one\ndate: 2026-03-14 # a Saturday\npatient: d-1\ndonor: d-2\nrom: left\n';
  const maps = rows.map((row) =>
    Object.entries(row)
      .map(([key, value]) => `${key}: ${JSON.stringify(value)}`)
      .join(', '),
  );
  const lines = maps.map((map) =>
    style === 'block' ? `  - ${map.replaceAll(/, (?=\w+: )/g, '\n    ')}\n` : `  - { ${map} } # kept\n`,
  );
  return `${head}${rows.length === 0 ? '' : `identity:\n${lines.join('')}`}reached: reads\nresult: works\n`;
}

function outcomeIn(text: string): OutcomeRecord {
  const outcome = snapshotOf({ 'outcomes/one.yaml': text }).find('outcome', 'one');
  if (!outcome) throw new Error(text);
  return outcome;
}

/** The text with what the trace adds. */
function written(text: string, values: readonly TracedValue[]): string | Refusal {
  const intents = identityIntents({ outcome: outcomeIn(text), document: 0 }, { values, problems: [] });
  if (isRefusal(intents)) return intents;
  const planned = planEdits({ tape: readText(text).tape, contentId: '' }, intents);
  return isRefusal(planned) ? planned : replaceIn(text, planned.edits);
}

const cases = fc.tuple(recorded, traced, fc.constantFrom(...styles));

describe('what a trace adds to the identity rows', () => {
  it('what was recorded stays as it was', () => {
    let count = 0;
    assertLaw(
      150,
      fc.property(cases, ([rows, values, style]) => {
        const text = outcomeText(rows, style);
        const after = written(text, values);
        if (isRefusal(after)) return;
        count++;
        const identity = outcomeIn(after).data.identity ?? [];
        for (const [position, row] of rows.entries()) expect(identity[position]).toMatchObject(row);
        if (style === 'flow') expect(after.match(/# kept/g)?.length ?? 0).toBe(rows.length);
      }),
    );
    expectOften(count, 30);
  });

  it('every traced value stands in the rows afterwards', () => {
    assertLaw(
      150,
      fc.property(cases, ([rows, values, style]) => {
        const after = written(outcomeText(rows, style), values);
        if (isRefusal(after)) return;
        const identity = outcomeIn(after).data.identity ?? [];
        for (const one of values) {
          for (const { role, column } of captureColumns) {
            const found = identity.filter(({ value }) => value === one.value).map((row) => row[column]);
            if (one[role] !== undefined) expect(found).toContain(one[role]);
          }
        }
      }),
    );
  });

  it('a second time there is nothing to add', () => {
    assertLaw(
      150,
      fc.property(cases, ([rows, values, style]) => {
        const after = written(outcomeText(rows, style), values);
        if (isRefusal(after)) return;
        expect(identityIntents({ outcome: outcomeIn(after), document: 0 }, { values, problems: [] })).toEqual([]);
      }),
    );
  });

  it('a row that says otherwise is never written over', () => {
    let refused = 0;
    assertLaw(
      150,
      fc.property(cases, ([rows, values, style]) => {
        const after = written(outcomeText(rows, style), values);
        const isOther = rows.some((row) =>
          values.some(
            (one) =>
              one.value === row.value &&
              captureColumns.some(({ role, column }) => isSameReport(one.value, row[column], one[role]) === false),
          ),
        );
        expect(isRefusal(after)).toBe(isOther);
        if (isOther) refused++;
      }),
    );
    expectOften(refused, 10);
  });
});
