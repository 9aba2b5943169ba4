const decayFactor = 1 / 0.95;
const tooLarge = 1e100;

/** Which variable to decide next: the one most often met in recent conflicts, of equal ones the first. */
export class VariableOrder {
  private readonly activity: number[] = [];
  private readonly heap: number[] = [];
  private readonly positions: number[] = [];
  private increment = 1;

  /** Puts a variable up for decision; one that is up already stays. */
  add(variable: number): void {
    this.activity[variable] ??= 0;
    if ((this.positions[variable] ?? -1) >= 0) return;
    this.positions[variable] = this.heap.length;
    this.heap.push(variable);
    this.rise(this.heap.length - 1);
  }

  /** The next variable that is open; those before it that are not are taken off. */
  next(isOpen: (variable: number) => boolean): number | undefined {
    for (;;) {
      const [first] = this.heap;
      if (first === undefined) return undefined;
      this.removeFirst();
      if (isOpen(first)) return first;
    }
  }

  /** Notes that a variable took part in a conflict. */
  bump(variable: number): void {
    const activity = (this.activity[variable] ?? 0) + this.increment;
    this.activity[variable] = activity;
    if (activity > tooLarge) {
      for (let position = 0; position < this.activity.length; position++) {
        this.activity[position] = (this.activity[position] ?? 0) / tooLarge;
      }
      this.increment /= tooLarge;
    }
    const position = this.positions[variable] ?? -1;
    if (position >= 0) this.rise(position);
  }

  /** Lets earlier conflicts count less. */
  decay(): void {
    this.increment *= decayFactor;
  }

  private removeFirst(): void {
    const [first = 0] = this.heap;
    const last = this.heap.pop() ?? 0;
    this.positions[first] = -1;
    if (this.heap.length === 0) return;
    this.place(last, 0);
    this.sink(0);
  }

  private isBefore(a: number, b: number): boolean {
    const difference = (this.activity[a] ?? 0) - (this.activity[b] ?? 0);
    return difference > 0 || (difference === 0 && a < b);
  }

  private place(variable: number, position: number): void {
    this.heap[position] = variable;
    this.positions[variable] = position;
  }

  private rise(start: number): void {
    const variable = this.heap[start] ?? 0;
    let position = start;
    while (position > 0) {
      const above = (position - 1) >> 1;
      const other = this.heap[above] ?? 0;
      if (!this.isBefore(variable, other)) break;
      this.place(other, position);
      position = above;
    }
    this.place(variable, position);
  }

  private sink(start: number): void {
    const variable = this.heap[start] ?? 0;
    let position = start;
    for (;;) {
      let below = 2 * position + 1;
      if (below >= this.heap.length) break;
      const right = below + 1;
      if (right < this.heap.length && this.isBefore(this.heap[right] ?? 0, this.heap[below] ?? 0)) below = right;
      const other = this.heap[below] ?? 0;
      if (!this.isBefore(other, variable)) break;
      this.place(other, position);
      position = below;
    }
    this.place(variable, position);
  }
}
