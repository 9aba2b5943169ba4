import { describe, expect, it } from 'vitest';
import { datesIn } from '../../server/src/core/schema/dates-in.ts';
import { referencesIn } from '../../server/src/core/schema/references.ts';

const textsOf = (found: ReturnType<typeof datesIn>) => found.map(({ text, path }) => `${path.join('.')} ${text}`);

describe('datesIn', () => {
  it('finds dates at any depth, weeks among them, and no bounds of ranges', () => {
    const drive = {
      made: '2012-W31',
      date_code: '1231',
      examined: [{ on: '2025-06-25' }, { contacts: 'clean' }, { on: '2025-07-01' }],
      condition: { as_of: '2025-05-20' },
    };
    expect(textsOf(datesIn('drive', drive))).toEqual([
      'made 2012-W31',
      'examined.0.on 2025-06-25',
      'examined.2.on 2025-07-01',
      'condition.as_of 2025-05-20',
    ]);
    expect(datesIn('rule', { applies_to: { made: { from: '2012-W31', to: 2014 } } })).toEqual([]);
  });

  it('takes nothing for a date that is no text, or that stands where the schema has none', () => {
    expect(datesIn('outcome', { date: 2026, made: '2012-08-03', identity: [{ value: '2012-08-03' }] })).toEqual([]);
    expect(datesIn('outcome', '2012-08-03')).toEqual([]);
  });
});

describe('referencesIn', () => {
  it('finds references in conditions within conditions', () => {
    const rule = {
      applies_to: { families: ['tern-2', 'tern-3'] },
      when: {
        any: [{ donor: { board: 'kestrel' } }, { none: [{ all: [{ patient: { rev: ['kestrel/A', 'kestrel/B'] } }] }] }],
      },
      exceptions: [{ outcome: 'one' }],
    };
    const found = referencesIn('rule', rule).map(({ refersTo, id, path }) => `${refersTo} ${id} ${path.join('.')}`);
    expect(found).toEqual([
      'family tern-2 applies_to.families.0',
      'family tern-3 applies_to.families.1',
      'board kestrel when.any.0.donor.board',
      'revision kestrel/A when.any.1.none.0.all.0.patient.rev.0',
      'revision kestrel/B when.any.1.none.0.all.0.patient.rev.1',
      'outcome one exceptions.0.outcome',
    ]);
  });

  it("takes a drive's own revision for no reference", () => {
    const found = referencesIn('drive', { family: 'tern-2', board: { id: 'kestrel', rev: 'A' } });
    expect(found.map(({ refersTo, id }) => `${refersTo} ${id}`)).toEqual(['family tern-2', 'board kestrel']);
  });
});
