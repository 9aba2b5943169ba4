import type { Snapshot } from '../index/snapshot.ts';
import { capitalise } from '../text/capitalise.ts';
import { defineCheck } from './define-check.ts';

/** Two records of one kind with one id. */
export const duplicateId = defineCheck({
  check: 'duplicate-id',
  group: 'structure',
  severity: 'error',
  scope: 'base',
  why: 'References cannot tell the two apart. The first by path stands and the other counts nowhere, so a swap may be credited to the wrong drive.',
  examples: () => [
    {
      title: 'Two makers of one id; the first by path stands',
      files: {
        'makers/a.yaml': 'kind: maker\nid: wren\nname: Wren\n',
        'makers/b.yaml': `kind: maker
id: wren
#   ^^^^ duplicate-id: Maker id \`wren\` is already taken; each maker needs its own id.
name: Wren Storage
`,
      },
    },
    {
      title: 'One id for two kinds',
      files: {
        'makers/a.yaml': 'kind: maker\nid: wren\nname: Wren\n',
        'families/a.yaml': 'kind: family\nid: wren\nmaker: wren\nname: Wren 1\n',
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const { again, first } of snapshot.duplicates()) {
      const { kind, id } = again.record;
      yield {
        at: { file: again.file.path, document: again.document, path: ['id'], side: 'value' },
        message: `${capitalise(kind)} id \`${id}\` is already taken; each ${kind} needs its own id.`,
        help: 'Give the later record a new id.',
        related: [
          {
            at: { file: first.file.path, document: first.document, path: ['id'], side: 'value' },
            message: 'First use.',
          },
        ],
      };
    }
  },
});
