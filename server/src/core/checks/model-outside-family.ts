import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { quotedList } from '../text/quoted-list.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import { isModelOutside } from '../verdicts/family-fit.ts';
import { defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const family = exampleFamily('models: ["NT?0-*", NTX500]\n');

/** A drive whose model its family does not cover. */
export const modelOutsideFamily = defineCheck({
  check: 'model-outside-family',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['drive'],
  why: 'Where the adaptives sit and which rules apply follows from the family. A drive filed under the wrong one is counted for the wrong rules. As long as its model does not fit, its other facts are not held against the family.',
  examples: () => [
    {
      title: 'A model of another family',
      files: {
        ...family,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
model: NP10-21
#      ^^^^^^^ model-outside-family: Model \`NP10-21\` fits none of the patterns of family \`tern-2\`: \`NT?0-*\`, \`NTX500\`.
`,
      },
    },
    {
      title: 'One that fits, in other letters',
      files: {
        ...family,
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nmodel: nt10-21\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'drive') return;
    const context = contextOf(record, snapshot);
    if (!context.family || !isModelOutside(context)) return;
    const { family } = context;
    const patterns = quotedList(family.data.models ?? []);
    yield {
      at: { record, path: ['model'], side: 'value' },
      message: `Model \`${record.data.model}\` fits none of the patterns of family \`${family.id}\`: ${patterns}.`,
      related: [{ at: { record: family, path: ['models'], side: 'key' }, message: 'The patterns of the family.' }],
    };
  },
});
