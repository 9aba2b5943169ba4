import { expect, it } from 'vitest';
import { type Edge, maximumMatching } from '../../server/src/core/odds/maximum-matching.ts';

function circle(names: readonly string[]): Edge[] {
  return names.map((name, position): Edge => [name, names[(position + 1) % names.length] ?? '']);
}

/** Outer circle, inner star, spokes. */
const petersen: Edge[] = [
  ...circle(['a', 'b', 'c', 'd', 'e']),
  ...circle(['v', 'x', 'z', 'w', 'y']),
  ...(['av', 'bw', 'cx', 'dy', 'ez'].map(([from, to]) => [from, to]) as Edge[]),
];

/** One of the three arms of Sylvester's graph: a circle of five with two chords, hung on the middle by a bridge. */
function arm(name: string): Edge[] {
  const inner = ['1', '2', '3', '4', '5'].map((number) => name + number);
  const [top = '', left = '', lowLeft = '', lowRight = '', right = ''] = inner;
  return [['middle', top], ...circle(inner), [left, lowRight], [lowLeft, right]];
}

it('pairs all ten of the Petersen graph', () => {
  // Source: Petersen, Die Theorie der regulären graphs, Acta Mathematica 15 (1891) 193: every cubic graph without a bridge has a perfect matching.
  expect(maximumMatching(petersen)).toHaveLength(5);
});

it('pairs fourteen of the sixteen of the graph with three bridges', () => {
  // Source: Sylvester's example in the same paper: cubic, with bridges, and without a perfect matching.
  const graph = ['p', 'q', 'r'].flatMap(arm);
  const degrees = new Map<string, number>();
  for (const name of graph.flat()) degrees.set(name, (degrees.get(name) ?? 0) + 1);
  expect([...degrees.values()]).toEqual(Array.from({ length: 16 }, () => 3));
  expect(maximumMatching(graph)).toHaveLength(7);
});

it('pairs fourteen of the fifteen Florentine families that married each other', () => {
  // Source: Padgett's data on marriages as networkx 3.6.1 has them, with its own maximum matching.
  const marriages =
    'Acciaiuoli-Medici Medici-Barbadori Medici-Ridolfi Medici-Tornabuoni Medici-Albizzi Medici-Salviati Castellani-Peruzzi Castellani-Strozzi Castellani-Barbadori Peruzzi-Strozzi Peruzzi-Bischeri Strozzi-Ridolfi Strozzi-Bischeri Ridolfi-Tornabuoni Tornabuoni-Guadagni Albizzi-Ginori Albizzi-Guadagni Salviati-Pazzi Bischeri-Guadagni Guadagni-Lamberteschi';
  expect(maximumMatching(marriages.split(' ').map((pair) => pair.split('-') as unknown as Edge))).toHaveLength(7);
});

it('needs a blossom contracted where greedy choice goes wrong', () => {
  // A triangle between two ends: only the way round it reaches both.
  const edges: Edge[] = [
    ['b', 'c'],
    ['a', 'b'],
    ['c', 'd'],
    ['d', 'b'],
    ['d', 'e'],
    ['c', 'f'],
  ];
  expect(maximumMatching(edges)).toHaveLength(3);
});

it('leaves out a member paired with itself', () => {
  expect(maximumMatching([['a', 'a']])).toEqual([]);
});

it('finds nothing where there is nothing', () => expect(maximumMatching([])).toEqual([]));

it('is quick where a family is large', () => {
  // 3,000 drives, each tried with three others: a step taken for every pair of drives would be nine million of them, a search.
  const edges = Array.from({ length: 9000 }, (_, n): Edge => [`d-${n % 3000}`, `d-${(n * 7 + 1) % 3000}`]);
  expect(maximumMatching(edges).length).toBeGreaterThan(1400);
});
