/** Work counted in steps, never in time, so that the same question gets the same answer on every machine. */
export class Effort {
  /** Steps taken so far. */
  steps = 0;

  constructor(
    /** Steps after which a question is given up. */
    public limit: number,
  ) {}

  /** Begins a question that may take so many steps. */
  restart(limit: number): void {
    this.steps = 0;
    this.limit = limit;
  }

  /** Takes steps. */
  spend(steps: number): void {
    this.steps += steps;
  }

  /** Whether no step is left. */
  get isSpent(): boolean {
    return this.steps >= this.limit;
  }
}
