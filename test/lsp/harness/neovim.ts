import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { inject } from 'vitest';
import { folderOf } from '../../harness/run-cli.ts';
import { lacks } from './lacks.ts';

/** Where Debian's package puts it. */
const program = '/usr/bin/nvim';

/** Whether Neovim is not at hand, and nobody insists on it. */
export const lacksNeovim = lacks(program);

/** Longest a run may take; all take a second or two. */
const patienceMs = 60_000;

/** The set-up the README prints; it is the only Lua there. */
function readmeSetup(): string {
  const readme = readFileSync(new URL('../../../README.md', import.meta.url), 'utf8');
  const [setup, ...others] = [...readme.matchAll(/```lua\n([\s\S]*?)```/g)].map(([, lua = '']) => lua);
  if (setup === undefined || others.length > 0) throw new Error('The README is to print one set-up in Lua.');
  return setup;
}

/** What steps may call: `await` waits until something holds, `findings` gives the diagnostics of the current buffer. */
const tools = `
local function await(holds)
  assert(vim.wait(20000, holds, 10), 'It has not come about: ' .. vim.inspect(vim.diagnostic.get()))
end
local function findings()
  return vim.tbl_map(function(found)
    return { found.lnum, found.col, found.end_col, vim.split(found.message, '\\n')[1] }
  end, vim.diagnostic.get(0))
end
`;

/**
 * Runs steps, in Lua, in a Neovim that has the set-up of the README and nothing else, from the folder of these files; nothing of it
 * reaches the user's own. Gives what the steps return, and a function that reads a file as it was saved.
 */
export async function inNeovim(
  files: Readonly<Record<string, string>>,
  steps: string,
): Promise<{ readonly returned: unknown; readonly saved: (path: string) => string }> {
  const folder = folderOf(files);
  const home = folderOf({
    'init.lua': readmeSetup(),
    'steps.lua': `${tools}
local function steps() ${steps} end
local isDone, returned = xpcall(steps, debug.traceback)
local file = assert(io.open(vim.env.HOME .. '/returned.json', 'w'))
file:write(vim.json.encode({ isDone = isDone, returned = returned }))
file:close()
vim.cmd('qall!')
`,
  });
  mkdirSync(join(home, 'bin'));
  symlinkSync(inject('builtCommand'), join(home, 'bin/swaplore'));
  const own = Object.fromEntries(['CONFIG', 'DATA', 'STATE'].map((name) => [`XDG_${name}_HOME`, home]));
  const args = ['--headless', '--clean', '-u', join(home, 'init.lua'), '-c', `luafile ${join(home, 'steps.lua')}`];
  const neovim = spawn(program, args, {
    cwd: folder,
    // A server may outlive its editor and still write what it remembers: not into what is removed after the test.
    env: {
      ...own,
      XDG_CACHE_HOME: inject('cacheHome'),
      HOME: home,
      PATH: [join(home, 'bin'), dirname(process.execPath), process.env['PATH']].join(':'),
    },
    stdio: ['ignore', 'ignore', 'pipe'],
    timeout: patienceMs,
    killSignal: 'SIGKILL',
  });
  let said = '';
  neovim.stderr.setEncoding('utf8').on('data', (text: string) => {
    said += text;
  });
  const [code] = await once(neovim, 'close');
  if (code !== 0) throw new Error(`Neovim ended with ${code}: ${said}`);
  const { isDone, returned } = JSON.parse(readFileSync(join(home, 'returned.json'), 'utf8'));
  if (!isDone) throw new Error(`${returned}\n${said}`);
  return { returned, saved: (path) => readFileSync(join(folder, path), 'utf8') };
}
