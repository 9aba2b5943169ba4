import { expect, it } from 'vitest';
import { ErrorCodes } from 'vscode-languageserver/node';
import { usualKits } from '../../server/src/core/starting/ci-kits.ts';
import { newBase } from '../../server/src/core/starting/new-base.ts';
import { usualTool } from '../../server/src/core/starting/tool.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { newBaseRequest } from '../../server/src/lsp/protocol.ts';
import { overEveryConnection } from './harness/connections.ts';

overEveryConnection((connect) => {
  it('is the files that the command line writes', async () => {
    const client = await connect({});
    const { files } = await client.ask(newBaseRequest, { name: 'Harbour Street', date: '2026-11-25' });
    const today = parseDate('2026-11-25')!;
    expect(files).toEqual(newBase({ name: 'Harbour Street', today, kits: usualKits, tool: usualTool }));
  });

  it('is refused without a name or a day', async () => {
    const client = await connect({});
    const refused = { code: ErrorCodes.InvalidParams };
    await expect(client.ask(newBaseRequest, { name: ' ', date: '2026-11-25' })).rejects.toMatchObject(refused);
    await expect(client.ask(newBaseRequest, { name: 'Quay', date: '2026-02-30' })).rejects.toMatchObject(refused);
  });
});
