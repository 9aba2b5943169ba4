import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runCli } from '../../server/src/cli/run-cli.ts';

const folder = mkdtempSync(join(tmpdir(), 'swaplore-today-'));
writeFileSync(join(folder, 'swaplore.yaml'), 'swaplore: 1\nname: Bench\n');
writeFileSync(
  join(folder, 'maker.yaml'),
  'kind: maker\nid: wren\nname: Wren\nsources: [{title: Price list, seen: 2026-03-14}]\n',
);
afterAll(() => rmSync(folder, { recursive: true }));

async function run(...argv: string[]): Promise<{ code: number; out: string; err: string }> {
  let out = '';
  let err = '';
  const terminal = {
    out: (text: string) => {
      out += text;
    },
    err: (text: string) => {
      err += text;
    },
    cwd: folder,
    columns: 120,
    hasColour: false,
  };
  const code = await runCli(argv, terminal, { version: '0.0.0' });
  return { code, out, err };
}

describe('--today', () => {
  it('moves the day that lint goes by', async () => {
    const early = await run('lint', '--today', '2026-03-12');
    expect(early).toEqual({
      code: 0,
      out: 'maker.yaml:4:37  warning  date-in-future\n  `seen` is `2026-03-14`, but today is 2026-03-12.\n\nBench: 0 errors, 1 warning, 0 notes (2 files, 1 record)\n',
      err: '',
    });
    expect((await run('lint', '--today', '2026-03-13')).out).toContain('nothing found');
  });

  it.each(['lint', 'contradictions'])('%s refuses what is no date', async (command) => {
    for (const typed of ['tomorrow', '2026-02-30', '2026-W11', '']) {
      expect(await run(command, '--today', typed)).toEqual({
        code: 2,
        out: '',
        err: `swaplore: --today cannot be ${typed || 'empty'}; a date such as 2026-03-14 is needed.\n`,
      });
    }
  });

  it('is the system’s date where it is left out', async () => {
    // A day of the past, and whatever day it is: no finding either way.
    expect((await run('lint')).code).toBe(0);
    expect((await run('contradictions')).code).toBe(0);
  });
});
