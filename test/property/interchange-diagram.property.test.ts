import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { InterchangeClaim } from '../../server/src/core/reasoning/interchange-claims.ts';
import type { Mark } from '../../server/src/core/reports/drawing.ts';
import {
  type DiagramBoard,
  interchangeDiagram,
  standingWords,
} from '../../server/src/core/reports/interchange-diagram.ts';
import { assertLaw } from '../harness/assert-law.ts';

const names = ['A', 'B', 'C', 'D', 'E', 'F'];

/** Boards whose claims may name revisions nobody recorded, themselves, and each other in circles. */
const arbitraryBoards: fc.Arbitrary<readonly DiagramBoard[]> = fc
  .array(
    fc.record({
      revisions: fc.subarray(names, { minLength: 1 }),
      pairs: fc.uniqueArray(fc.tuple(fc.constantFrom(...names), fc.constantFrom(...names, 'Z')), {
        maxLength: 12,
        selector: String,
      }),
      counts: fc.array(fc.tuple(fc.nat(2), fc.nat(2), fc.nat(2)), { minLength: 12, maxLength: 12 }),
    }),
    { minLength: 1, maxLength: 3 },
  )
  .map((boards) =>
    boards.map(({ revisions, pairs, counts }, at) => ({
      ...{ id: `w-${at}`, revisions },
      claims: pairs
        .filter(([rev]) => revisions.includes(rev))
        .map(([rev, standsFor], n): InterchangeClaim => {
          const [worked = 0, failed = 0, explained = 0] = counts[n] ?? [];
          return { rev, standsFor, isClaimed: true, worked, failed, explained };
        }),
    })),
  );

type Line = Extract<Mark, { shape: 'line' }>;

interface Box {
  readonly name: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function linesOf(marks: readonly Mark[], isScale: boolean): Line[] {
  return marks.flatMap((mark) => (mark.shape === 'line' && (mark.tone === 'scale') === isScale ? mark : []));
}

/** The boxes as drawn: four lines each, and the name inside. */
function boxesIn(marks: readonly Mark[]): Box[] {
  const sides = linesOf(marks, true);
  return Array.from({ length: sides.length / 4 }, (_, at) => {
    const points = sides.slice(4 * at, 4 * at + 4).flatMap(({ from, to }) => [from, to]);
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    const box = { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
    const label = marks.find(
      (mark) =>
        mark.shape === 'label' && mark.x > box.left && mark.x < box.right && mark.y > box.top && mark.y < box.bottom,
    );
    return { name: label?.shape === 'label' ? label.text : '', ...box };
  });
}

interface DrawnArrow {
  readonly lines: readonly Line[];
  readonly from: string;
  readonly to: string;
}

/** Arrows as drawn: three lines and a head of two. */
function arrowsIn(marks: readonly Mark[]): DrawnArrow[] {
  const boxes = boxesIn(marks);
  const nameAt = ([x, y]: readonly [number, number]): string =>
    boxes.find(({ right, top, bottom }) => x === right && y > top && y < bottom)?.name ?? '';
  const all = linesOf(marks, false);
  return Array.from({ length: all.length / 5 }, (_, at) => {
    const lines = all.slice(5 * at, 5 * at + 3);
    return { lines, from: nameAt(lines[0]!.from), to: nameAt(lines[2]!.to) };
  });
}

/** Whether two lines that run along an axis share more than a point. */
function overlap(a: Line, b: Line): boolean {
  const isFlat = (line: Line): boolean => line.from[1] === line.to[1];
  if (isFlat(a) !== isFlat(b)) return false;
  const [along, across] = isFlat(a) ? ([0, 1] as const) : ([1, 0] as const);
  if (a.from[across] !== b.from[across]) return false;
  const [a1, a2] = [a.from[along], a.to[along]].sort((x, y) => x - y) as [number, number];
  const [b1, b2] = [b.from[along], b.to[along]].sort((x, y) => x - y) as [number, number];
  return a1 < b2 && b1 < a2;
}

describe('diagrams of interchange', () => {
  it('boxes do not overlap, and no lane lies in a box', () => {
    assertLaw(
      60,
      fc.property(arbitraryBoards, (boards) => {
        const { drawing } = interchangeDiagram(boards);
        const boxes = boxesIn(drawing.marks);
        for (const [at, box] of boxes.entries()) {
          expect(box.name).not.toBe('');
          expect(box.bottom).toBeLessThanOrEqual(drawing.height);
          expect(box.top).toBeGreaterThanOrEqual(boxes[at - 1]?.bottom ?? 0);
        }
        const right = Math.max(...boxes.map((box) => box.right));
        for (const { from, to } of linesOf(drawing.marks, false)) {
          expect(Math.min(from[0], to[0])).toBeGreaterThanOrEqual(right);
          expect(Math.max(from[0], to[0])).toBeLessThan(drawing.width);
        }
      }),
    );
  });

  it('every claim is drawn from its revision to the other, and stands in the lines', () => {
    assertLaw(
      60,
      fc.property(arbitraryBoards, (boards) => {
        const { drawing, lines } = interchangeDiagram(boards);
        const claims = boards.flatMap((board) => board.claims);
        const drawn = arrowsIn(drawing.marks).map(({ from, to }) => `${from} ${to.replace(', unrecorded', '')}`);
        expect(drawn).toEqual(claims.map(({ rev, standsFor }) => `${rev} ${standsFor}`));
        const said = lines.flatMap((line) => /^ {2}(\S+) \S+> (\S+) {2}(.*)$/.exec(line)?.slice(1).join(' ') ?? []);
        expect(said).toEqual(claims.map((claim) => `${claim.rev} ${claim.standsFor} ${standingWords(claim)}`));
        expect(lines.filter((line) => line.length > 80)).toEqual([]);
        for (const { id, revisions } of boards) {
          const own = lines.slice(lines.indexOf(id) + 1).join('\n');
          for (const rev of revisions) expect(own).toMatch(new RegExp(`\\b${rev}\\b`));
        }
      }),
    );
  });

  it('arrows share no line, and how one stands can be told without its colour', () => {
    assertLaw(
      60,
      fc.property(arbitraryBoards, (boards) => {
        const arrows = arrowsIn(interchangeDiagram(boards).drawing.marks);
        const claims = boards.flatMap((board) => board.claims);
        for (const [at, { lines }] of arrows.entries()) {
          const { failed, worked } = claims[at]!;
          const stroke = failed > 0 ? 'dashed' : worked > 0 ? undefined : 'dotted';
          expect(new Set(lines.map((line) => line.stroke))).toEqual(new Set([stroke]));
          for (const other of arrows.slice(at + 1)) {
            const shared = lines.filter((line) => other.lines.some((one) => overlap(line, one)));
            expect(shared).toEqual([]);
          }
        }
      }),
    );
  });
});
