import type { Answer } from './answers.ts';
import type { Bench } from './bench.ts';
import type { Choice } from './question.ts';

/** One step of a recording: the key it fills and how it is asked for. What is not said here follows from the key's schema. */
export interface Step {
  /** The key, as questions are named. */
  readonly name: string;
  readonly asks: string;
  /** Whether it is asked for at all, by what was answered before; always where it is absent. */
  readonly isAsked?: (bench: Bench) => boolean;
  /** What to choose from, where the schema does not list it. */
  readonly choices?: (bench: Bench) => readonly Choice[];
  /** What is likely, so that it need not be typed; undefined where nothing is. */
  readonly usual?: (bench: Bench) => Answer | undefined;
  /** What the base and the answers so far add to where a value is found. */
  readonly adds?: (bench: Bench) => string | undefined;
}
