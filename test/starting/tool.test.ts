import { expect, it } from 'vitest';
import { findTool } from '../../server/src/core/starting/tool.ts';

it.each([
  ['tools/swaplore.tgz', './tools/swaplore.tgz'],
  ['./tools/swaplore.tgz', './tools/swaplore.tgz'],
  ['swaplore-0.1.0.tgz', './swaplore-0.1.0.tgz'],
  ['.ci/tools/swaplore_1.tgz', './.ci/tools/swaplore_1.tgz'],
  ['swaplore@0.1.0', 'swaplore@0.1.0'],
  ['@bench/swaplore@1.2.3-rc.1', '@bench/swaplore@1.2.3-rc.1'],
])('takes %s', (text, spec) => {
  const tool = findTool(text)!;
  expect(tool.spec).toBe(spec);
  expect(tool.tarball).toBe(spec.startsWith('./') ? spec.slice(2) : undefined);
});

it.each([
  ['nothing', ''],
  ['a folder', 'tools'],
  ['what lies outside', '../swaplore.tgz'],
  ['what lies outside by a way round', 'tools/../../swaplore.tgz'],
  ['a place of one machine', '/opt/swaplore.tgz'],
  ['an address', 'https://example.org/swaplore.tgz'],
  ['a package of no version', 'swaplore'],
  ['a package of whatever version is latest', 'swaplore@latest'],
  ['a range of versions', 'swaplore@^0.1.0'],
  ['an option', '--global'],
  ['spaces', 'my tools/swaplore.tgz'],
  ['a command', 'tools/$(id).tgz'],
  ['a second line', 'swaplore@0.1.0\nrun: id'],
  ['a quote', "swaplore'.tgz"],
])('takes no %s', (_, text) => {
  expect(findTool(text)).toBeUndefined();
});
