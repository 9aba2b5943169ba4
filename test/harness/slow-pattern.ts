import { type AST, RegExpParser, visitRegExpAST } from '@eslint-community/regexpp';
import { type CharSet, JS } from 'refa';
import { analyse } from 'scslre';

/**
 * Why a pattern may take more time than the length of a text, one sentence a reason; empty where it cannot.
 *
 * scslre finds what goes wrong between repetitions: one within another, two that exchange characters, and one that is tried anew at each
 * place of what it read in vain. It is not told by it that alternatives within a repetition overlap (`(?:a|ab?|b)*`), so each
 * repetition is also asked whether it can read one text in two ways. Assertions count as met, and what refers back as empty.
 */
export function slownessOf(pattern: RegExp): readonly string[] {
  const literal = new RegExpParser().parseLiteral(String(pattern));
  const { flags } = literal;
  if (!JS.isFlags(flags)) throw new Error(`${pattern} has flags that exclude each other.`);
  const reasons = analyse(literal).reports.map(({ type, exponential, character }) => {
    const growth = exponential ? 'exponentially' : 'with a power';
    return `Time grows ${growth} over \`${character.pick}\` (${type}).`;
  });
  visitRegExpAST(literal.pattern, {
    onQuantifierEnter: (loop) => {
      if (loop.max > manyTimes && isAmbiguous(loop, flags)) reasons.push(`\`${loop.raw}\` reads one text in two ways.`);
    },
  });
  return reasons;
}

/** Repetitions up to which reading in two ways costs nothing worth counting: 2 to the power of it. */
const manyTimes = 8;

/** One character to be read, and what may be read next. A way that stands there twice can be taken in two ways. */
interface State {
  readonly reads: CharSet;
  readonly next: State[];
}

/** A part of a pattern: where it may begin and end, and whether it may be left out. Source: V. M. Glushkov's construction, 1961. */
interface Part {
  readonly first: readonly State[];
  readonly last: readonly State[];
  readonly isEmpty: boolean;
}

const nothing: Part = { first: [], last: [], isEmpty: true };

/** Whether two runs through the automaton of a repetition read the same text: the automaton beside itself reaches the end of both. */
function isAmbiguous(loop: AST.Quantifier, flags: JS.Flags): boolean {
  const { first, last } = partOf(loop, flags);
  const ends = new Set(last);
  type Pair = { readonly one: State; readonly other: State; readonly differ: boolean };
  const pairsOf = (some: readonly State[], others: readonly State[], differed: boolean): Pair[] =>
    some.flatMap((one, at) =>
      others.flatMap((other, beside) => {
        // As long as the runs do not differ they are in one state, so that both lists are one.
        return one.reads.isDisjointWith(other.reads) ? [] : { one, other, differ: differed || at !== beside };
      }),
    );
  const seen = new Map<State, Map<State, Set<boolean>>>();
  const open = pairsOf(first, first, false);
  for (const { one, other, differ } of open) {
    const known = within(
      within(seen, one, () => new Map()),
      other,
      () => new Set(),
    );
    if (known.has(differ)) continue;
    known.add(differ);
    if (differ && ends.has(one) && ends.has(other)) return true;
    open.push(...pairsOf(one.next, other.next, differ));
  }
  return false;
}

function within<Key, Value>(map: Map<Key, Value>, key: Key, make: () => Value): Value {
  const value = map.get(key) ?? make();
  map.set(key, value);
  return value;
}

function partOf(element: AST.Element, flags: JS.Flags): Part {
  switch (element.type) {
    case 'Group':
    case 'CapturingGroup':
      return eitherOf(element.alternatives.map(({ elements }) => inTurn(elements.map((each) => partOf(each, flags)))));
    case 'Quantifier': {
      const copy = (): Part => partOf(element.element, flags);
      const times = (count: number): Part[] => Array.from({ length: count }, copy);
      if (element.max === Number.POSITIVE_INFINITY) {
        const needed = times(Math.max(element.min - 1, 0));
        const repeated = again(copy());
        return inTurn([...needed, element.min === 0 ? optional(repeated) : repeated]);
      }
      // What may come is nested, `a(a(a)?)?`, so that each number of times is one way.
      const rest = times(element.max - element.min).reduce((after, each) => optional(inTurn([each, after])), nothing);
      return inTurn([...times(element.min), rest]);
    }
    case 'Assertion':
    case 'Backreference':
      return nothing;
    default: {
      const state = { reads: JS.parseCharSet(element as Parameters<typeof JS.parseCharSet>[0], flags), next: [] };
      return { first: [state], last: [state], isEmpty: false };
    }
  }
}

function optional(part: Part): Part {
  return { ...part, isEmpty: true };
}

function eitherOf(parts: readonly Part[]): Part {
  return {
    first: parts.flatMap(({ first }) => first),
    last: parts.flatMap(({ last }) => last),
    isEmpty: parts.some(({ isEmpty }) => isEmpty),
  };
}

function again(part: Part): Part {
  for (const end of part.last) end.next.push(...part.first);
  return part;
}

function inTurn(parts: readonly Part[]): Part {
  return parts.reduce((before, after) => {
    for (const end of before.last) end.next.push(...after.first);
    return {
      first: before.isEmpty ? [...before.first, ...after.first] : before.first,
      last: after.isEmpty ? [...before.last, ...after.last] : after.last,
      isEmpty: before.isEmpty && after.isEmpty,
    };
  }, nothing);
}
