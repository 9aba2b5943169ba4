import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import { isMadeOutside, isModelOutside } from '../verdicts/family-fit.ts';
import { defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const family = exampleFamily('made: {from: 2010, to: 2014}\n');

/** A drive made when its family was not. */
export const madeOutsideFamily = defineCheck({
  check: 'made-outside-family',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['drive'],
  why: 'Such a drive is usually misfiled, or its date code was read by the wrong scheme. Rules that apply to some years only then reach the wrong drives.',
  examples: () => [
    {
      title: 'Two years late',
      files: {
        ...family,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
made: 2016-W03
#     ^^^^^^^^ made-outside-family: Drive \`d-0117\` was made \`2016-W03\`, but family \`tern-2\` was built from 2010 to 2014.
`,
      },
    },
    {
      title: 'A week that begins in the last year',
      files: {
        ...family,
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nmade: 2015-W01\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'drive') return;
    const context = contextOf(record, snapshot);
    const { family } = context;
    if (!family || !isMadeOutside(context) || isModelOutside(context)) return;
    const { from, to } = family.data.made ?? {};
    const years = [from === undefined ? undefined : `from ${from}`, to === undefined ? undefined : `to ${to}`];
    const built = years.filter((part) => part !== undefined).join(' ');
    yield {
      at: { record, path: ['made'], side: 'value' },
      message: `Drive \`${record.id}\` was made \`${record.data.made}\`, but family \`${family.id}\` was built ${built}.`,
      related: [{ at: { record: family, path: ['made'], side: 'key' }, message: 'The years of the family.' }],
    };
  },
});
