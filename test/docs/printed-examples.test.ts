import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

/**
 * Every printed example of the documents is run and compared: a block marked `console` begins with a command, the rest is its output.
 * `UPDATE_DOCS=1 npx vitest run test/docs` writes what the commands print now.
 */
const root = fileURLToPath(new URL('../../', import.meta.url));
const block = /```console\n\$ swaplore (.*)\n([\s\S]*?)```/g;

describe.each(['README.md', 'DEVELOPERS.md'])('%s', (name) => {
  const text = readFileSync(root + name, 'utf8');

  if (process.env['UPDATE_DOCS']) {
    const updated = text.replace(
      block,
      (_, command: string) => `\`\`\`console\n$ swaplore ${command}\n${run(command)}\`\`\``,
    );
    writeFileSync(root + name, updated);
  }

  const examples = [...text.matchAll(block)].map(([, command = '', output = '']) => [command, output] as const);

  it.each(examples)('swaplore %s', (command, output) => {
    expect(run(command)).toBe(output);
  });

  it('prints nothing wider than 80 columns', () => {
    for (const [, output] of examples)
      for (const line of output.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
  });
});

it('README.md prints the map of its import as it is used', () => {
  const map = readFileSync(`${root}test/fixtures/import/map.yaml`, 'utf8');
  expect(readFileSync(`${root}README.md`, 'utf8')).toContain(`\`\`\`yaml\n${map}\`\`\`\n`);
});

/** Commands in documents are plain words; quotes are not needed. */
function run(command: string): string {
  const { stdout } = spawnSync(process.execPath, ['dist/swaplore.cjs', ...command.split(' ')], {
    cwd: root,
    encoding: 'utf8',
  });
  return stdout;
}
