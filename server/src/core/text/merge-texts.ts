/**
 * What two people made of one text, put together line by line, as far as their changes are apart.
 * Laws (test/property/merge-texts.property.test.ts):
 * - a text that one side alone changed is what that side made of it
 * - what both sides changed alike is changed once
 * - exchanging the sides changes nothing
 * - changes of lines that are apart are all there
 */

/** Lines that may differ from one text to another; finding how takes time and space that grow with the square of it. */
const mostDifferences = 2000;

/** A stretch of lines of the old text and of what stands in its place, each half-open. */
interface Hunk {
  readonly from: number;
  readonly to: number;
  readonly newFrom: number;
  readonly newTo: number;
}

/** The two texts made of `old` as one; undefined where both changed lines that are the same or next to each other, unless both made the same of them. */
export function mergeTexts(old: string, a: string, b: string): string | undefined {
  if (a === b || b === old) return a;
  if (a === old) return b;
  const [lines, linesA, linesB] = [old, a, b].map(linesOf) as [string[], string[], string[]];
  const hunksA = hunksBetween(lines, linesA);
  const hunksB = hunksBetween(lines, linesB);
  if (!hunksA || !hunksB) return undefined;
  const merged: string[] = [];
  let at = 0;
  for (const { from, to, inA, inB } of clustersOf(hunksA, hunksB)) {
    const mine = textIn(linesA, inA, { from, to });
    const other = textIn(linesB, inB, { from, to });
    const text = inB.length === 0 || mine === other ? mine : inA.length === 0 ? other : undefined;
    if (text === undefined) return undefined;
    merged.push(...lines.slice(at, from), text);
    at = to;
  }
  return [...merged, ...lines.slice(at)].join('');
}

/** Lines with what ends them. */
function linesOf(text: string): string[] {
  return text.match(/[^\n]+\n?|\n/g) ?? [];
}

/** Changes of both sides that touch, with the stretch of the old text that they are about. */
interface Cluster {
  readonly from: number;
  readonly to: number;
  readonly inA: readonly Hunk[];
  readonly inB: readonly Hunk[];
}

function* clustersOf(hunksA: readonly Hunk[], hunksB: readonly Hunk[]): Generator<Cluster> {
  const all = [
    ...hunksA.map((hunk) => ({ hunk, side: 'a' as const })),
    ...hunksB.map((hunk) => ({ hunk, side: 'b' as const })),
  ].sort((one, other) => one.hunk.from - other.hunk.from || one.hunk.to - other.hunk.to);
  for (let next = 0; next < all.length; ) {
    const { from = 0 } = all[next]?.hunk ?? {};
    let to = from;
    const start = next;
    while (next < all.length && (next === start || (all[next]?.hunk.from ?? 0) <= to)) {
      to = Math.max(to, all[next]?.hunk.to ?? to);
      next++;
    }
    const of = (wanted: 'a' | 'b') => all.slice(start, next).flatMap(({ hunk, side }) => (side === wanted ? hunk : []));
    yield { from, to, inA: of('a'), inB: of('b') };
  }
}

/** What one side has in place of a stretch of the old text that its changes lie in; all of that where it changed nothing. */
function textIn(lines: readonly string[], hunks: readonly Hunk[], { from, to }: Pick<Hunk, 'from' | 'to'>): string {
  const [first, last] = [hunks[0], hunks.at(-1)];
  return first && last ? lines.slice(first.newFrom - (first.from - from), last.newTo + (to - last.to)).join('') : '';
}

/** How one text became another, in order; undefined where they differ in too much. Source: Myers, "An O(ND) Difference Algorithm", 1986. */
function hunksBetween(old: readonly string[], now: readonly string[]): Hunk[] | undefined {
  const most = Math.min(old.length + now.length, mostDifferences);
  // How far into the old text each diagonal reaches, the middle one at `most + 1`.
  const reach = new Int32Array(2 * most + 3);
  const before: Int32Array[] = [];
  for (let differences = 0; differences <= most; differences++) {
    before.push(reach.slice(most - differences, most + differences + 3));
    for (let diagonal = -differences; diagonal <= differences; diagonal += 2) {
      const slot = most + 1 + diagonal;
      const [below = 0, above = 0] = [reach[slot - 1], reach[slot + 1]];
      let at = comesFromAbove(diagonal, differences, { below, above }) ? above : below + 1;
      while (at < old.length && at - diagonal < now.length && old[at] === now[at - diagonal]) at++;
      reach[slot] = at;
      if (at >= old.length && at - diagonal >= now.length) return hunksOf(before, old.length, now.length);
    }
  }
  return undefined;
}

/** Whether the way that reaches furthest on a diagonal adds a line last; otherwise it leaves one out. */
function comesFromAbove(
  diagonal: number,
  differences: number,
  { below, above }: { readonly below: number; readonly above: number },
): boolean {
  return diagonal === -differences || (diagonal !== differences && below < above);
}

/** Goes the way back from the ends of both texts. `before` holds how far each diagonal reached before each step. */
function hunksOf(before: readonly Int32Array[], oldLength: number, newLength: number): Hunk[] {
  const hunks: Hunk[] = [];
  let [at, newAt] = [oldLength, newLength];
  for (let differences = before.length - 1; differences > 0; differences--) {
    const diagonal = at - newAt;
    const slot = diagonal + differences + 1;
    const reach = before[differences];
    const [below = 0, above = 0] = [reach?.[slot - 1], reach?.[slot + 1]];
    const isAdded = comesFromAbove(diagonal, differences, { below, above });
    const from = isAdded ? above : below;
    const newFrom = from - (isAdded ? diagonal + 1 : diagonal - 1);
    const step = { from, to: isAdded ? from : from + 1, newFrom, newTo: isAdded ? newFrom + 1 : newFrom };
    const next = hunks.at(-1);
    if (next && next.from === step.to && next.newFrom === step.newTo) {
      hunks[hunks.length - 1] = { ...next, from: step.from, newFrom: step.newFrom };
    } else hunks.push(step);
    [at, newAt] = [from, newFrom];
  }
  return hunks.reverse();
}
