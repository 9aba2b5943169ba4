import { expect, it } from 'vitest';
import { explainSwaps } from '../../server/src/core/explanations/explain-swaps.ts';
import { hypothesisItem } from '../../server/src/core/reports/hypothesis-item.ts';
import { decidedOf } from '../harness/arbitrary-decided.ts';

it('tells pairs tried both ways, mixed ones and those not known from the others', () => {
  const pair = (n: number, rom: string, works: boolean) => ({ patient: 2 * n, donor: 2 * n + 1, rom, works });
  const bothWays = [0, 1, 2, 3, 4, 5].flatMap((n) => [pair(n, 'chip_moved', true), pair(n, 'left', n === 0)]);
  const others = [
    pair(6, 'chip_moved', true),
    pair(7, 'left', false),
    pair(8, 'left', false),
    pair(8, 'left', true),
    pair(9, 'not_fitted', true),
  ];
  const decided = decidedOf(Array(20).fill(''), [...bothWays, ...others]);
  const { hypotheses } = explainSwaps(decided);
  const { name, lines } = hypothesisItem(hypotheses[0]!, decided, { all: 1, tested: 0 });
  expect([name.replace(/: .*$/, ''), ...lines]).toMatchInlineSnapshot(`
    [
      "Works where \`rom_travels",
      "The one pair with it worked, the one pair without it failed. Of 6 pairs tried both ways, 5 worked only with it, 1 came out alike. By chance alone pairs tried both ways would come out this cleanly once in 16.",
      "Against it: \`o-01\` and \`o-15\`.",
      "Not known for \`o-16\`.",
      "Not counted, having come out both ways: \`d-16\` and \`d-17\`.",
    ]
  `);
  const among = hypothesisItem({ ...hypotheses[0]!, adjusted: 0.25 }, decided, { all: 9, tested: 4 });
  expect(among.lines[0]).toMatchInlineSnapshot(
    `"The one pair with it worked, the one pair without it failed. Of 6 pairs tried both ways, 5 worked only with it, 1 came out alike. By chance alone pairs tried both ways would come out this cleanly once in 16. One of the 4 conditions that had a chance to show this would do as well by luck at most in 3 of 10 cases."`,
  );
});
