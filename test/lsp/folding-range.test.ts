import { expect, it } from 'vitest';
import { FoldingRangeKind, FoldingRangeRequest } from 'vscode-languageserver';
import { overEveryConnection } from './harness/connections.ts';

const files = { 'a.yaml': '# one\n# two\nkind: drive$0\nid: d-1\nnotes: |\n  a\n  b\n' };
const folds = [
  { startLine: 0, endLine: 1, kind: FoldingRangeKind.Comment },
  { startLine: 2, endLine: 6 },
  { startLine: 4, endLine: 6 },
];

overEveryConnection((connect) => {
  it('folds whole lines', async () => {
    const client = await connect(files);
    const { textDocument } = await client.openAtCursor();
    expect(await client.ask(FoldingRangeRequest.type, { textDocument })).toEqual(folds);
  });

  it('gives no more than the client takes', async () => {
    const capabilities = { textDocument: { foldingRange: { rangeLimit: 2, lineFoldingOnly: true } } };
    const client = await connect(files, { capabilities });
    const { textDocument } = await client.openAtCursor();
    expect(await client.ask(FoldingRangeRequest.type, { textDocument })).toEqual(folds.slice(0, 2));
  });
});
