/** What an extension host is held up by while a base is read and checked, in milliseconds. */
export interface Delays {
  /** From the start of the extension host; undefined where it took too long to wait for. */
  readonly checkedMs: number | undefined;
  /** How late timers were. */
  readonly timersMs: Spread;
  /** Delay of the event loop as Node has it, which counts from one look to the next; undefined in a browser. */
  readonly loopMs: Spread | undefined;
}

interface Spread {
  readonly p95: number;
  readonly longest: number;
}

/** What the line of a measurement begins with. */
export const delaysMark = 'SWAPLORE_DELAYS';
