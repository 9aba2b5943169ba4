import { expect, it } from 'vitest';
import { LineIndex } from '../../server/src/core/text/line-index.ts';
import { overEveryConnection } from './harness/connections.ts';

const path = 'makers.yaml';
const text = 'kind: maker\r\nid: harbour\r\nname: Harbour 😀 & Söhne\r\nnmae: 1\r\n';

/** A client that counts in this encoding alone. */
function counting(encoding: string) {
  return { capabilities: { general: { positionEncodings: [encoding] } } };
}

overEveryConnection((connect) => {
  it.each([
    ['utf-16', 7],
    ['utf-8', 10],
    ['utf-32', 6],
  ])('agrees on %s, and counts astral characters and line ends in it', async (encoding, width) => {
    const client = await connect({ [path]: text }, counting(encoding));
    expect(client.initialized.capabilities.positionEncoding).toBe(encoding);
    // A key of its own on the line of a wide name, so that what stands before it is counted.
    await client.open(path, text.replace('name: Harbour 😀 & Söhne\r\nnmae: 1', '{}'));
    await client.change(path, [{ text: 'kind: maker\r\nid: harbour\r\n"n😀é": 1\r\nname: H\r\n' }]);
    const [found] = await client.untilFound(path, ['unknown-key']);
    expect(found?.range).toEqual({ start: { line: 2, character: 0 }, end: { line: 2, character: width - 1 } });
  });

  it('applies changes one after the other, each to what the one before has left', async () => {
    const client = await connect({ [path]: text });
    await client.open(path);
    await client.untilFound(path, ['unknown-key']);
    const at = (line: number, from: number, to: number) => ({
      start: { line, character: from },
      end: { line, character: to },
    });
    await client.change(path, [
      // Behind the astral character, which counts as two.
      { range: at(2, 16, 17), text: 'and' },
      { range: at(3, 0, 7), text: 'site: 2' },
      { range: at(3, 0, 4), text: 'nmae' },
      { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: '# one\r\n' },
    ]);
    await client.until(() => client.diagnostics[path]?.[0]?.range.start.line === 4);
    expect(client.diagnostics[path]).toMatchObject([{ code: 'unknown-key', range: at(4, 0, 4) }]);
  });

  it('passes over a change that comes late, and one of a document that is not open', async () => {
    const client = await connect({ [path]: text });
    await client.open(path);
    await client.change(path, [{ text: text.replace('nmae: 1\r\n', '') }], 7);
    await client.change(path, [{ text: `${text}nmea: 2\r\n` }], 6);
    await client.change('others.yaml', [{ text }], 1);
    await client.until(() => client.logged.length === 2);
    expect(client.logged.map((line) => line.replace(/\S+\//, ''))).toEqual([
      'change 6 of makers.yaml comes after 7 and is passed over',
      'a change of others.yaml, which is not open, is passed over',
    ]);
    await client.untilFound(path, []);
  });

  it('names the version that was checked, and never shows findings of an older one after a newer', async () => {
    const client = await connect({ [path]: text });
    await client.open(path);
    const { end } = new LineIndex(text).rangeOf(0, text.length);
    for (let number = 0; number < 30; number++) {
      await client.change(path, [{ range: { start: end, end }, text: number % 2 ? 'a: 1\r\n' : '# nothing\r\n' }]);
    }
    const last = await client.change(path, [{ text: 'kind: maker\nid: harbour\n' }]);
    await client.untilFound(path, ['schema']);
    const versions = client.published.flatMap(({ uri, version }) =>
      uri === client.uriOf(path) ? (version ?? []) : [],
    );
    expect(versions).toEqual([...versions].sort((a, b) => a - b));
    expect(versions.at(-1)).toBe(last);
  });
});
