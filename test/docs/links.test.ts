import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const documents = ['README.md', 'DEVELOPERS.md', 'CHANGELOG.md', 'knowledge/README.md'];

describe.each(documents)('%s', (name) => {
  const text = readFileSync(root + name, 'utf8');

  it('links to files that are there', () => {
    for (const [, target = ''] of text.matchAll(/\]\(([^)#]+)[^)]*\)/g)) {
      if (!/^https?:/.test(target)) expect(existsSync(join(root, dirname(name), target)), target).toBe(true);
    }
  });

  it('names files that are there', () => {
    for (const [, target = ''] of text.matchAll(/`((?:server|schemas|test|client|knowledge)\/[\w./-]+)`/g)) {
      expect(existsSync(root + target), target).toBe(true);
    }
  });

  it('names npm scripts that are there', () => {
    const { scripts } = JSON.parse(readFileSync(`${root}package.json`, 'utf8')) as { scripts: Record<string, string> };
    for (const [, script = ''] of text.matchAll(/npm run ([\w:]+)/g)) expect(scripts, script).toHaveProperty(script);
  });
});

describe('README.md', () => {
  it('begins with one paragraph on the job and two commands, each alone in its block', () => {
    const text = readFileSync(`${root}README.md`, 'utf8');
    const blocks = [...text.matchAll(/```sh\n([\s\S]*?)```/g)].map(([, command = '']) => command);
    expect(blocks).toEqual(['npm run demo\n', 'npm test\n']);
  });
});
