import type fc from 'fast-check';

/** What is said of every target, for the table and for whoever looks for what a name stands for. */
interface Described {
  readonly name: string;
  /** What is handed over. */
  readonly feeds: string;
  /** What must hold of it, besides that nothing throws and that it ends. */
  readonly holds: string;
  /** Executions in the test suite, where all targets together may take about fifteen seconds. */
  readonly runsInSuite: number;
  /** Executions of `npm run fuzz` where nothing else is asked for. */
  readonly runs: number;
  /** Longest one execution may take, in milliseconds of this process. */
  readonly limitMs: number;
}

/** Fed with bytes, which follow from a corpus by mutation and are kept where they reach something new. */
export interface BytesTarget extends Described {
  readonly kind: 'bytes';
  /** What to begin with, besides the corpus of the repository. */
  readonly seeds: () => readonly Uint8Array[];
  /** Longest input, in bytes. */
  readonly mostBytes: number;
  /** Throws where something does not hold. */
  readonly run: (bytes: Uint8Array) => void;
}

/** Fed with samples of a generator that knows how they are built. */
export interface MadeTarget<Sample> extends Described {
  readonly kind: 'made';
  readonly samples: fc.Arbitrary<Sample>;
  /** Throws, or rejects, where something does not hold. */
  readonly run: (sample: Sample) => void | Promise<void>;
  /** Ends what was begun for it. */
  readonly end?: () => Promise<void>;
}

/** A part of the program that is fed with whatever may come. */
export type Target = BytesTarget | MadeTarget<unknown>;

/** A target whose samples are of any type. */
export function madeTarget<Sample>(target: Omit<MadeTarget<Sample>, 'kind'>): MadeTarget<unknown> {
  return { ...target, kind: 'made' } as MadeTarget<unknown>;
}
