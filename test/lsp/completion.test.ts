import { expect, it } from 'vitest';
import {
  type CompletionItem,
  type CompletionList,
  CompletionRequest,
  InsertTextFormat,
} from 'vscode-languageserver/node';
import { LineIndex } from '../../server/src/core/text/line-index.ts';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

const shelf = `kind: drive
id: d-0117
family: tern-2
model: NT10
---
kind: drive
id: d-0118
family: tern-2
`;

/** A client that takes snippets, and lines as they are. */
const able = {
  capabilities: {
    textDocument: {
      completion: { completionItem: { snippetSupport: true, insertTextModeSupport: { valueSet: [1 as const] } } },
    },
  },
};

async function offered(client: Client): Promise<CompletionList | null> {
  const given = await client.ask(CompletionRequest.type, await client.openAtCursor());
  return Array.isArray(given) ? { isIncomplete: false, items: given } : given;
}

/** The text of a file once an item is chosen. */
function after(client: Client, path: string, item: CompletionItem | undefined): string {
  const text = client.files[path] ?? '';
  const { textEdit } = item ?? {};
  if (!textEdit || !('range' in textEdit)) throw new Error('The item edits nothing.');
  const lines = new LineIndex(text);
  const { start, end } = textEdit.range;
  return text.slice(0, lines.offsetAt(start)) + textEdit.newText + text.slice(lines.offsetAt(end));
}

overEveryConnection((connect) => {
  it('says where it wants to be asked', async () => {
    const client = await connect({});
    const { triggerCharacters } = client.initialized.capabilities.completionProvider ?? {};
    expect(triggerCharacters).toEqual(expect.arrayContaining([':', ' ', '-', '[', '{', '"']));
  });

  it('offers the keys that are missing in a half-typed record', async () => {
    const client = await connect({ 'new.yaml': 'kind: drive\nid: d-1\nfa$0\nmodel: [\n' });
    const found = await offered(client);
    const item = found?.items.find(({ label }) => label === 'family');
    expect(item).toMatchObject({ detail: 'Family (required)', insertTextFormat: InsertTextFormat.PlainText });
    expect(after(client, 'new.yaml', item)).toBe('kind: drive\nid: d-1\nfamily: \nmodel: [\n');
    expect(found?.items.map(({ label }) => label)).not.toContain('model');
  });

  it('offers ids by any part of them, with what tells them apart', async () => {
    const client = await connect({ 'new.yaml': 'kind: outcome\npatient: 011$0\n', 'shelf.yaml': shelf });
    await client.until(() => client.progress.includes('end'));
    const found = await offered(client);
    expect(found?.items.map(({ label, detail, filterText }) => ({ label, detail, filterText }))).toEqual([
      { label: 'd-0117', detail: 'tern-2, NT10', filterText: '011d-0117' },
      { label: 'd-0118', detail: 'tern-2', filterText: '011d-0118' },
    ]);
    expect(found?.isIncomplete).toBe(false);
    expect(after(client, 'new.yaml', found?.items[1])).toBe('kind: outcome\npatient: d-0118\n');
  });

  it('offers whole records with tab stops where the editor knows them', async () => {
    const client = await connect({ 'new.yaml': '$0', 'shelf.yaml': shelf }, able);
    const item = (await offered(client))?.items.find(({ label }) => label === 'rule');
    expect(item).toMatchObject({ insertTextFormat: InsertTextFormat.Snippet, insertTextMode: 1 });
    expect(item?.textEdit?.newText).toMatch(
      /^kind: rule\nid: \$1\nclaim: \$\{2\|needs,enough,prevents\|\}\nwhen:\n {2}\$3$/,
    );
  });

  it('offers plain text to other editors, and nothing in comments', async () => {
    const client = await connect({ 'new.yaml': 'kind: rule # $0' });
    expect(await offered(client)).toBeNull();
    const plain = await connect({ 'new.yaml': '$0' });
    const items = (await offered(plain))?.items ?? [];
    expect(items.map(({ insertTextFormat }) => insertTextFormat)).not.toContain(InsertTextFormat.Snippet);
  });

  it('answers nothing for what belongs to no base', async () => {
    const client = await connect({
      'swaplore.yaml': 'swaplore: 1\nignore: [drafts/]\n',
      'drafts/new.yaml': 'kind: $0',
    });
    expect(await offered(client)).toBeNull();
  });
});
