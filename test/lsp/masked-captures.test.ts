import { createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import {
  type CodeAction,
  CodeActionRequest,
  TextDocumentSaveReason,
  WillSaveTextDocumentWaitUntilRequest,
} from 'vscode-languageserver/node';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';
import { editedText } from './harness/edited-text.ts';

const capture = `{
  "capture": 1,
  "values": { "serial": "WRN0A4F2K" },
  "sources": [
    {
      "name": "vpd_pg80",
      "sha256": "${'3b1f0c6a'.repeat(8)}",
      "values": { "serial": "WRN0A4F2K" },
      "unnamed": [{ "at": "word 10", "value": "5257304E" }, { "at": "word 12", "value": "34413246 004b" }]
    }
  ]
}
`;

const outcome = `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
captures: {patient_before: {file: 117a.json, sha256: ${sumOf(capture)}}}
reached: reads
result: works
`;

const files = {
  'base.yaml':
    'kind: maker\nid: wren\nname: Wren\n---\nkind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: platters}\n---\nkind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
  'one.yaml': outcome,
  '117a.json': capture,
};

const capabilities = {
  textDocument: {
    synchronization: { willSaveWaitUntil: true },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } },
  },
};

function sumOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

async function offered(client: Client, only?: string[]): Promise<readonly CodeAction[]> {
  const answer = await client.ask(CodeActionRequest.type, {
    textDocument: { uri: client.uriOf('one.yaml') },
    range: { start: { line: 6, character: 0 }, end: { line: 6, character: 99 } },
    context: { diagnostics: [], ...(only ? { only } : {}) },
  });
  return ((answer ?? []) as CodeAction[]).filter(({ title }) => only || title.startsWith('Mask'));
}

overEveryConnection((connect) => {
  it('masks a capture and records its new sum, alone or with all that needs no choice', async () => {
    const client = await connect(files, { capabilities, initializationOptions: { fixOnSave: true } });
    await client.open('one.yaml');
    await client.untilFound('one.yaml', ['serial-not-masked']);
    const [mask] = await offered(client);
    expect(mask).toMatchObject({ title: 'Mask the serial number in `117a.json`', isPreferred: true });
    const changes = mask?.edit?.changes ?? {};
    const masked = editedText(capture, changes[client.uriOf('117a.json')] ?? []);
    expect(masked).toContain('"values": { "serial": "****4F2K" }');
    expect(masked).not.toMatch(/WRN0|5257|3441/);
    expect(editedText(outcome, changes[client.uriOf('one.yaml')] ?? [])).toBe(
      outcome.replace(sumOf(capture), sumOf(masked)),
    );
    expect((await offered(client, ['source.fixAll']))[0]?.edit).toEqual(mask?.edit);
  });

  it('leaves other files alone on save', async () => {
    const client = await connect(files, { capabilities, initializationOptions: { fixOnSave: true } });
    await client.open('one.yaml');
    await client.untilFound('one.yaml', ['serial-not-masked']);
    const params = { textDocument: { uri: client.uriOf('one.yaml') }, reason: TextDocumentSaveReason.Manual };
    expect(await client.ask(WillSaveTextDocumentWaitUntilRequest.type, params)).toEqual([]);
  });
});
