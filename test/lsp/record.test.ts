import { expect, it } from 'vitest';
import { ErrorCodes, LSPErrorCodes } from 'vscode-languageserver/node';
import { type RecordAnswer, type RecordParams, recordRequest } from '../../server/src/lsp/protocol.ts';
import { ternBench } from '../harness/tern-bench.ts';
import type { Client } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

function ask(client: Client, step: Omit<RecordParams, 'kind'>): Promise<RecordAnswer> {
  return client.ask(recordRequest, { kind: 'outcome', ...step });
}

/** Answers every question, those named with what is given and the rest as not known. */
async function answerAll(client: Client, given: Readonly<Record<string, string>>): Promise<RecordAnswer> {
  let now = await ask(client, { answers: {} });
  while (now.question) {
    const answer = given[now.question.name] ?? null;
    now = await ask(client, { answers: now.answers, given: { answer } });
  }
  return now;
}

const given = {
  date: '2026-04-02',
  patient: 'd-0117',
  donor: 'd-0118',
  rom: 'left',
  reached: 'spins',
  result: 'inconclusive',
};

overEveryConnection((connect) => {
  it('asks one question after another, and takes back the last answer', async () => {
    const client = await connect(ternBench);
    const first = await ask(client, { answers: {} });
    expect(first.question).toMatchObject({ name: 'date', position: 1, input: { kind: 'date' } });
    const second = await ask(client, { answers: {}, given: { typed: '2026-04-02' } });
    expect(second.answers).toEqual({ date: '2026-04-02' });
    expect(second.question?.name).toBe('patient');
    const back = await ask(client, { answers: second.answers, isBack: true });
    expect(back.answers).toEqual({});
    expect(back.question?.name).toBe('date');
  });

  it('says what is wrong with an answer, and does not take it', async () => {
    const client = await connect(ternBench);
    const answered = await ask(client, { answers: {}, given: { typed: '2026-02-30' } });
    expect(answered).toMatchObject({ answers: {}, question: { name: 'date' } });
    expect(answered.fault).toContain('a date such as');
  });

  it('gives at the end a file to make, and where to look first in it', async () => {
    const client = await connect(ternBench);
    const { record } = await answerAll(client, given);
    expect(client.pathOf(record?.uri ?? '')).toBe('outcomes/2026-04-02-tern-2-117-118.yaml');
    expect(record?.text).toBe(`kind: outcome
id: 2026-04-02-tern-2-117-118
date: 2026-04-02
patient: d-0117
donor: d-0118
rom: left
reached: spins
result: inconclusive
`);
    // A control is missing, which stands nowhere.
    expect(record?.position).toEqual({ line: 0, character: 0 });
  });

  it('gives another id where a file is there after all', async () => {
    const client = await connect(ternBench);
    const { answers, record } = await answerAll(client, given);
    const again = await ask(client, { answers, taken: [record?.id ?? ''] });
    expect(again.record?.id).toBe('2026-04-02-tern-2-117-118-2');
  });

  it('knows of documents that are open and not saved', async () => {
    const client = await connect(ternBench);
    await client.open('drives/tern.yaml', 'kind: drive\nid: d-0500\nfamily: tern-2\n');
    const { question } = await ask(client, { answers: { date: null } });
    const items = question && 'items' in question.input ? question.input.items : [];
    expect(items.map(({ label }) => label)).toEqual(['not known', 'd-0500']);
  });

  it('is refused for what is not asked for, and where the config cannot be used', async () => {
    const client = await connect(ternBench);
    const odd = client.ask(recordRequest, { kind: 'rule' as 'drive', answers: {} });
    await expect(odd).rejects.toMatchObject({ code: ErrorCodes.InvalidParams });
    const broken = await connect({ ...ternBench, 'swaplore.yaml': 'swaplore: 9\n' });
    await expect(ask(broken, { answers: {} })).rejects.toMatchObject({ code: LSPErrorCodes.RequestFailed });
  });
});
