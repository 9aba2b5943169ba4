/**
 * Which revision of a board is said to do for which other one, as boxes and arrows. Every arrow has a lane of its own beside the boxes,
 * which lie beneath each other, so that nothing is drawn across anything but lines across lines.
 * Laws (test/property/interchange-diagram.property.test.ts):
 * - boxes do not overlap, and no lane lies in a box
 * - every claim is drawn from its revision to the other, and stands in the lines
 * - arrows share no line, and how one stands can be told without its colour
 */
import type { InterchangeClaim } from '../reasoning/interchange-claims.ts';
import { cutText } from '../text/cut-text.ts';
import { foldText } from '../text/fold.ts';
import { plural } from '../text/plural.ts';
import type { Figure } from './document.ts';
import type { Mark } from './drawing.ts';

/** A board of a diagram. */
export interface DiagramBoard {
  readonly id: string;
  /** Its revisions as it writes them. */
  readonly revisions: readonly string[];
  /** What it claims of them. */
  readonly claims: readonly InterchangeClaim[];
}

/** The diagram of some boards. */
export function interchangeDiagram(boards: readonly DiagramBoard[]): Figure {
  const claims = boards.flatMap((board) => board.claims);
  return {
    kind: 'figure',
    caption: 'Revisions, each with an arrow to those it is said to do for',
    description: [
      `${plural(claims.length, 'claim')} of ${plural(boards.length, 'board')}.`,
      ...boards.map(inWords),
    ].join(' '),
    drawing: drawn(boards),
    lines: boards.flatMap(boardLines),
  };
}

/** How a claim came out in words, without a full stop. */
export function standingWords({ worked, failed, explained }: InterchangeClaim): string {
  if (worked + failed + explained === 0) return 'not tried';
  const counts = [
    ...(failed === 0 ? [] : [`${failed} failed`]),
    ...(worked === 0 ? [] : [`${worked} worked`]),
    ...(explained === 0 ? [] : [`${explained} failed as a law says`]),
  ];
  return `${failed > 0 ? 'contradicted: ' : worked > 0 ? 'borne out: ' : ''}${counts.join(', ')}`;
}

function inWords({ id, revisions, claims }: DiagramBoard): string {
  if (claims.length === 0) return `Board ${id} has ${plural(revisions.length, 'revision')} and claims nothing.`;
  return `Board ${id}: ${claims.map(claimWords).join('; ')}.`;
}

function claimWords(claim: InterchangeClaim): string {
  return `${claim.rev} for ${claim.standsFor}, ${standingWords(claim)}`;
}

/** How the line of a claim is drawn: whole where it was borne out, broken where it was contradicted, in dots where nobody knows. */
function styleOf({ worked, failed }: InterchangeClaim): Pick<Extract<Mark, { shape: 'line' }>, 'tone' | 'stroke'> {
  if (failed > 0) return { tone: 'alarm', stroke: 'dashed' };
  return { tone: 'value', stroke: worked > 0 ? undefined : 'dotted' };
}

const columns = 80;

function boardLines(board: DiagramBoard): string[] {
  const { id, revisions, claims } = board;
  const absent = boxesOf(board).flatMap(({ name, isRecorded }) => (isRecorded ? [] : [name]));
  const bare = revisions.filter(
    (rev) => !claims.some(({ rev: a, standsFor: b }) => [a, b].some((one) => foldText(one) === foldText(rev))),
  );
  return [
    id,
    ...claims.map(
      (claim) =>
        `  ${cutText(claim.rev, 20)} ${arrowOf(claim)} ${cutText(claim.standsFor, 20)}  ${standingWords(claim)}`,
    ),
    ...(bare.length === 0 ? [] : [`  ${bare.join(', ')}: no claim`]),
    ...(absent.length === 0 ? [] : [`  ${absent.join(', ')}: not recorded`]),
  ].map((line) => cutText(line, columns));
}

function arrowOf({ worked, failed }: InterchangeClaim): string {
  if (failed > 0) return '─×─>';
  return worked > 0 ? '───>' : '···>';
}

/** A box that stands for a revision. */
interface Box {
  readonly board: string;
  /** As the board writes it, and as it is compared. */
  readonly name: string;
  readonly folded: string;
  readonly isRecorded: boolean;
}

/** One end of an arrow: where on its box it is, is found out once all are known. */
interface Arrow {
  readonly claim: InterchangeClaim;
  readonly from: number;
  readonly to: number;
}

/** Measures: a box, the room between boxes, between the ends of arrows at a box, between lanes, and of a board's name. */
const [boxWidth, boxStart, boxGap, portStep, laneStep, headHeight] = [120, 16, 8, 14, 10, 22];

/** Longest name in a box, of a board, and longest words about a claim. */
const [boxLetters, boardLetters, claimLetters] = [20, 100, 64];

/** What stands behind the name of a revision that is claimed to be replaced and is not recorded. */
const absentWords = ', unrecorded';

/** Width of a letter, at most. */
const letterWidth = 5.6;

function drawn(boards: readonly DiagramBoard[]): Figure['drawing'] {
  const boxes = boards.flatMap(boxesOf);
  const arrows = boards.flatMap((board) => arrowsOf(board, boxes));
  const ports = portsOf(arrows, boxes.length);
  const tops: number[] = [];
  const marks: Mark[] = [];
  let y = 0;
  for (const [at, box] of boxes.entries()) {
    if (box.board !== boxes[at - 1]?.board) {
      const text = cutText(box.board, boardLetters);
      marks.push({ shape: 'label', x: 0, y: y + headHeight - 8, anchor: 'start', text });
      y += headHeight;
    }
    const height = portStep * Math.max(1, ports[at]?.length ?? 0) + 4;
    tops.push(y);
    marks.push(...boxMarks(box, y, height));
    y += height + boxGap;
  }
  const portY = (box: number, arrow: Arrow, end: 'from' | 'to'): number => {
    const at = ports[box]?.findIndex((port) => port.arrow === arrow && port.end === end) ?? 0;
    return (tops[box] ?? 0) + 2 + portStep * (at + 0.5);
  };
  const spans = arrows.map((arrow) => ({
    arrow,
    from: portY(arrow.from, arrow, 'from'),
    to: portY(arrow.to, arrow, 'to'),
  }));
  const lanes = lanesOf(spans);
  const words = boxStart + boxWidth + laneStep * (Math.max(0, ...lanes.map((lane) => lane + 1)) + 2);
  const labels = spans.map(({ arrow: { claim }, from }) => ({ from, text: cutText(claimWords(claim), claimLetters) }));
  const right = Math.max(0, ...labels.map(({ text }) => text.length)) * letterWidth;
  return {
    width: Math.max(560, Math.ceil(words + right)),
    height: Math.max(1, y),
    marks: [
      ...marks,
      ...spans.flatMap(({ arrow, from, to }, at) => arrowMarks(arrow.claim, [from, to], lanes[at] ?? 0)),
      ...labels.map(({ from, text }): Mark => ({ shape: 'label', x: words, y: from + 3, anchor: 'start', text })),
    ],
  };
}

/** A box for every revision, those included that a claim names and nobody has recorded. */
function boxesOf({ id, revisions, claims }: DiagramBoard): Box[] {
  const boxes = new Map<string, Box>();
  const add = (name: string, isRecorded: boolean): void => {
    const folded = foldText(name);
    if (!boxes.has(folded)) boxes.set(folded, { board: id, name, folded, isRecorded });
  };
  for (const rev of revisions) add(rev, true);
  for (const { standsFor } of claims) add(standsFor, false);
  return [...boxes.values()];
}

function arrowsOf({ id, claims }: DiagramBoard, boxes: readonly Box[]): Arrow[] {
  const find = (rev: string): number =>
    boxes.findIndex(({ board, folded }) => board === id && folded === foldText(rev));
  return claims.map((claim) => ({ claim, from: find(claim.rev), to: find(claim.standsFor) }));
}

/** The ends of arrows at each box, those first that lead to boxes further up. */
function portsOf(arrows: readonly Arrow[], boxes: number) {
  const ends = arrows.flatMap((arrow) => [
    { arrow, end: 'from', box: arrow.from, other: arrow.to } as const,
    { arrow, end: 'to', box: arrow.to, other: arrow.from } as const,
  ]);
  return Array.from({ length: boxes }, (_, box) =>
    ends.filter((end) => end.box === box).sort((a, b) => a.other - b.other),
  );
}

/** A lane for each arrow, counted from the boxes: short arrows nearest to them, and no two in one lane that would touch. */
function lanesOf(spans: readonly { readonly from: number; readonly to: number }[]): number[] {
  const lanes: (readonly [number, number])[][] = [];
  const found: number[] = spans.map(() => 0);
  const order = spans
    .map(({ from, to }, at) => ({ at, low: Math.min(from, to), high: Math.max(from, to) }))
    .sort((a, b) => a.high - a.low - (b.high - b.low) || a.at - b.at);
  for (const { at, low, high } of order) {
    const free = lanes.findIndex((lane) => lane.every(([from, to]) => high < from || to < low));
    const lane = free < 0 ? lanes.length : free;
    lanes[lane] = [...(lanes[lane] ?? []), [low, high]];
    found[at] = lane;
  }
  return found;
}

function boxMarks({ name, isRecorded }: Box, top: number, height: number): Mark[] {
  const [left, right, bottom] = [boxStart, boxStart + boxWidth, top + height];
  const corners = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ] as const;
  const stroke = isRecorded ? undefined : 'dotted';
  return [
    ...corners.map(
      (from, at): Mark => ({ shape: 'line', tone: 'scale', stroke, from, to: corners[(at + 1) % 4] ?? from }),
    ),
    {
      shape: 'label',
      x: left + 6,
      y: top + height / 2 + 3,
      anchor: 'start',
      text: isRecorded ? cutText(name, boxLetters) : `${cutText(name, boxLetters - absentWords.length)}${absentWords}`,
    },
  ];
}

/** From the one box to the lane, along it, and to the other box, where its head is. */
function arrowMarks(claim: InterchangeClaim, [from, to]: readonly [number, number], lane: number): Mark[] {
  const style = styleOf(claim);
  const [edge, x] = [boxStart + boxWidth, boxStart + boxWidth + laneStep * (lane + 1.5)];
  return [
    { shape: 'line', ...style, from: [edge, from], to: [x, from] },
    { shape: 'line', ...style, from: [x, from], to: [x, to] },
    { shape: 'line', ...style, from: [x, to], to: [edge, to] },
    { shape: 'line', tone: style.tone, from: [edge, to], to: [edge + 6, to - 4] },
    { shape: 'line', tone: style.tone, from: [edge, to], to: [edge + 6, to + 4] },
  ];
}
