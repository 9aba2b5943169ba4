import { spawnSync } from 'node:child_process';
import { truncateSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mostAttachmentBytes } from '../../server/src/core/captures/attachment.ts';
import { folderOf, runCommand, swaplore } from '../harness/run-cli.ts';

const base = {
  'base/swaplore.yaml': 'swaplore: 1\n',
  'base/tern.yaml': 'kind: maker\nid: wren\nname: Wren\n---\nkind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
};
const map =
  'mapping: 1\nrecords: [{ kind: drive, id: "d-{Nr}", fields: [{ key: family, constant: tern-2 }, { key: model, column: Modell }] }]\n';

/** Runs a command in a folder with a file of so many bytes, which is text: another reason to refuse it there is not. */
function withLarge(bytes: number, args: readonly string[]) {
  const large = '#'.repeat(bytes);
  return runCommand(folderOf({ ...base, 'map.yaml': map, 'table.csv': 'Nr,Modell\n1,W\n', large }), args);
}

describe('a file that is too large is not read', () => {
  it.each([
    [
      'the table of import',
      20_000_001,
      ['import', 'large', '--map', 'map.yaml'],
      'large cannot be read: it has more than 20,000,000',
    ],
    [
      'the table a map is proposed for',
      20_000_001,
      ['import', 'large', '--suggest-map'],
      'large cannot be read: it has more than 20,000,000',
    ],
    ['the map of import', 1_000_001, ['import', 'table.csv', '--map', 'large'], 'The map has 1,000,001 bytes'],
    ['answers of record', 1_000_001, ['record', '--from', 'large'], 'large has more than 1,000,000 bytes.'],
  ])('%s', (_, bytes, args, says) => {
    const { code, stderr } = withLarge(bytes, args);
    expect({ code, stderr }).toEqual({ code: 2, stderr: expect.stringContaining(says) });
  });

  it('a file of records', () => {
    const folder = folderOf({ ...base, 'base/a.yaml': '' });
    truncateSync(join(folder, 'base/a.yaml'), mostAttachmentBytes + 1);
    expect(runCommand(folder, ['lint']).stdout).toContain('cannot be read: it has more than 64,000,000 bytes.');
  });
});

describe.runIf(process.platform !== 'win32')('what never ends is not waited for', () => {
  it.each([
    ['a pipe as table', ['import', 'pipe', '--map', 'map.yaml']],
    ['a pipe as map', ['import', 'table.csv', '--map', 'pipe']],
    ['zeros without end as table', ['import', '/dev/zero', '--map', 'map.yaml']],
    ['zeros without end as answers', ['record', '--from', '/dev/zero']],
  ])('%s', (_, args) => {
    const folder = folderOf({ ...base, 'map.yaml': map, 'table.csv': 'Nr,Modell\n1,W\n' });
    spawnSync('mkfifo', [join(folder, 'pipe')]);
    expect(runCommand(folder, args).code).toBe(2);
  });
});

describe('words of JavaScript', () => {
  const words = ['__proto__', 'constructor', 'toString', 'hasOwnProperty'];

  it.each(words)('as ids, revisions, values and names of checks: %s', (word) => {
    const files = {
      'swaplore.yaml': `swaplore: 1\nseverity: { ${word}: error }\n`,
      'a.yaml': [
        `kind: maker\nid: wren\nname: ${word}\n${word}: 1\n`,
        `kind: board\nid: b-1\nmaker: wren\npart_number: "1"\nrevisions: [{ rev: ${word} }, { rev: ${word} }]\n`,
        `kind: drive\nid: d-1\nfamily: ${word}\nboard: { id: b-1, rev: ${word}x }\n`,
        `kind: outcome\nid: o-1\npatient: ${word}\ndonor: d-1\nidentity: [{ value: ${word}, after: ${word} }]\n`,
      ].join('---\n'),
    };
    const shown = swaplore(files, ['lint']);
    expect(shown).not.toContain('internal-check-failed');
    expect(shown).toMatch(new RegExp(`${word}[^]*exit [12]$`));
  });

  it.each(words)('as a heading of a table: %s', (word) => {
    const files = { ...base, 'map.yaml': map.replace('Modell', word), 'table.csv': `Nr,${word}\n1,W-${word}\n` };
    expect(swaplore(files, ['import', 'table.csv', '--map', 'map.yaml', '--dry-run', '--json'])).toContain(
      `model: W-${word}`,
    );
    expect(swaplore({ ...files, 'map.yaml': map }, ['import', 'table.csv', '--map', 'map.yaml'])).toContain('exit 2');
  });

  it.each(words)('as an answer or a key of a capture: %s', (word) => {
    const files = {
      ...base,
      'answers.json': `{ "${word}": 1 }`,
      'c.json': `{ "${word}": { "serial": "x" } }`,
    };
    expect(swaplore(files, ['record', '--from', 'answers.json'])).toContain(`\`${word}\` is nothing that is asked for`);
    expect(swaplore(files, ['decode', 'c.json'])).not.toContain('exit 3');
  });
});
