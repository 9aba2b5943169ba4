/**
 * Choices that depend on a seed alone. Every part of a base has a source of its own, named for it, so that a change in one part
 * leaves the others as they are.
 */
export class Random {
  private state: number;

  constructor(private readonly seed: string) {
    this.state = hash(seed);
  }

  /** A source for a part of what this one is for. It does not advance this one. */
  fork(name: string): Random {
    return new Random(`${this.seed}/${name}`);
  }

  /** A number from 0 up to, not including, 1. Source: mulberry32, a public-domain generator by Tommy Ettinger. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), this.state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }

  /** A whole number between two others, both included. */
  integer(min: number, max: number): number {
    return min + Math.floor(this.next() * (max - min + 1));
  }

  /** True with this probability. */
  chance(probability: number): boolean {
    return this.next() < probability;
  }

  /** One of a list, each as likely as the next. */
  pick<T>(list: readonly T[]): T {
    return at(list, Math.floor(this.next() * list.length));
  }

  /** One of a list by weight. */
  weighted<T>(choices: readonly (readonly [weight: number, value: T])[]): T {
    let left = this.next() * choices.reduce((sum, [weight]) => sum + weight, 0);
    for (const [weight, value] of choices) {
      left -= weight;
      if (left < 0) return value;
    }
    return at(choices, choices.length - 1)[1];
  }

  /** A text of characters of an alphabet. */
  letters(alphabet: string, length: number): string {
    return Array.from({ length }, () => this.pick([...alphabet])).join('');
  }
}

/** The entry at a position that must exist. */
export function at<T>(list: readonly T[], position: number): T {
  if (position < 0 || position >= list.length) throw new RangeError(`${position} is outside a list of ${list.length}`);
  return list[position] as T;
}

/** FNV-1a over the code units. */
function hash(text: string): number {
  let value = 0x811c9dc5;
  for (let index = 0; index < text.length; index++) value = Math.imul(value ^ text.charCodeAt(index), 0x01000193);
  return value;
}
