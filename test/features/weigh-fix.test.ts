import { expect, it } from 'vitest';
import { checkFresh, foundIn, weighed } from '../harness/checked-files.ts';

const maker = 'kind: maker\nid: wren\nname: Wren\nnoets: a\n';

it('knows nothing of a remedy that was found in another text', () => {
  const [before, after] = [checkFresh({ 'a.yaml': maker }), checkFresh({ 'a.yaml': `${maker}# more\n` })];
  const [fix] = foundIn(before).flatMap(({ fixes }) => fixes);
  expect(weighed(fix!, before).kind).toBe('fix');
  expect(weighed(fix!, after).kind).toBe('ask');
});
