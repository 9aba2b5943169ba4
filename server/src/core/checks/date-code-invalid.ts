import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { formatSpan } from '../terms/calendar.ts';
import { quotedList } from '../text/quoted-list.ts';
import { contextOf, type DriveContext } from '../verdicts/drive-context.ts';
import { contradictingReadings, readDateCode } from '../verdicts/made-readings.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

const makers = {
  'makers/wren.yaml':
    'kind: maker\nid: wren\nname: Wren\ndate_code: [{scheme: fiscal_week, format: YYWW, fiscal_year_starts: "07-01"}]\n',
};

/** A printed date code that its maker's schemes cannot read, or that says another date than `made`. */
export const dateCodeInvalid = defineCheck({
  check: 'date-code-invalid',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['drive'],
  why: 'Drives made within a few weeks of each other usually carry the same board variant, so donors are looked for by date. A fiscal week taken for one of the calendar is off by half a year.',
  examples: () => [
    {
      title: 'Week 05 of a fiscal year that begins in July lies in summer',
      files: {
        ...exampleBase,
        ...makers,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
made: 2013-W05
date_code: "1305"
#          ^^^^^^ date-code-invalid: Date code \`1305\` means 2012-07-22 to 2012-08-11, but \`made\` is \`2013-W05\`.
`,
      },
    },
    {
      title: 'No year has so many weeks',
      files: {
        ...exampleBase,
        ...makers,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
date_code: "1371"
#          ^^^^^^ date-code-invalid: Date code \`1371\` stands for week 71 of 2013, which does not exist.
`,
      },
    },
    {
      title: 'A week either way is not known',
      files: {
        ...exampleBase,
        ...makers,
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nmade: 2012-W32\ndate_code: "1305"\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'drive') return;
    const context = contextOf(record, snapshot);
    const draft = unreadable(context) ?? contradiction(context);
    if (draft) yield draft;
  },
});

function unreadable(context: DriveContext): Draft | undefined {
  const { drive, maker } = context;
  const reading = readDateCode(context);
  if (reading.state !== 'unreadable' || !maker) return undefined;
  const formats = new Set((maker.data.date_code ?? []).flatMap((scheme) => scheme.format ?? []));
  const expected = `does not have the form ${quotedList([...formats], ' or ')} that maker \`${maker.id}\` prints`;
  return {
    at: { record: drive, path: ['date_code'], side: 'value' },
    message: `Date code \`${drive.data.date_code}\` ${reading.says === undefined ? expected : `stands for ${reading.says}, which does not exist`}.`,
    related: [{ at: { record: maker, path: ['date_code'], side: 'key' }, message: "The maker's schemes." }],
  };
}

function contradiction(context: DriveContext): Draft | undefined {
  const { drive, maker } = context;
  const readings = contradictingReadings(context);
  const [first] = readings;
  if (!first || !maker) return undefined;
  const spans = new Set(readings.map(({ span }) => formatSpan(span)));
  return {
    at: { record: drive, path: ['date_code'], side: 'value' },
    message: `Date code \`${drive.data.date_code}\` means ${[...spans].join(' or ')}, but \`made\` is \`${drive.data.made}\`.`,
    related: [
      { at: { record: drive, path: ['made'], side: 'value' }, message: 'The recorded date.' },
      { at: { record: maker, path: ['date_code', first.scheme], side: 'key' }, message: 'The scheme it was read by.' },
    ],
  };
}
