/**
 * Which slots hold one value, and which values that can be. Classes of equal slots with the cells left to each; every step can be
 * taken back, and every contradiction is explained by the literals that lead to it: a path of equalities, and where values are at
 * odds a smallest set of memberships that leaves nothing.
 */
import type { Cells } from './cells.ts';
import { type Literal, negate } from './clause-solver.ts';
import type { Value } from './terms.ts';

/** What a variable says about slots, by number. */
export type SlotAtom =
  | { readonly says: 'equal'; readonly a: number; readonly b: number }
  | { readonly says: 'in'; readonly slot: number; readonly mask: bigint };

interface Edge {
  readonly to: number;
  readonly literal: Literal;
}

interface Membership {
  readonly slot: number;
  readonly mask: bigint;
  readonly literal: Literal;
}

interface Difference {
  readonly a: number;
  readonly b: number;
  readonly literal: Literal;
}

/** Finds the variable that says a slot lies in some cells, or makes it. */
type FindMembership = (slot: number, mask: bigint) => Literal;

/** Classes of equal slots. */
export class EqualityTheory {
  private readonly parents: number[];
  private readonly sizes: number[];
  private readonly masks: bigint[];
  private readonly edges: Edge[][];
  private readonly memberships: Membership[][];
  private readonly differences: Difference[][];
  private readonly undos: (() => void)[] = [];
  private readonly allDifferences: Difference[] = [];

  /** `cellsOf` gives the cells of each slot's sort, by the slot's number. */
  constructor(
    private readonly cellsOf: readonly Cells[],
    private readonly findMembership: FindMembership,
  ) {
    this.parents = cellsOf.map((_, slot) => slot);
    this.sizes = cellsOf.map(() => 1);
    this.masks = cellsOf.map(({ full }) => full);
    this.edges = cellsOf.map(() => []);
    this.memberships = cellsOf.map(() => []);
    this.differences = cellsOf.map(() => []);
  }

  /** How many steps there are to take back. */
  get depth(): number {
    return this.undos.length;
  }

  /** Takes back all steps but the first so many. */
  retractTo(depth: number): void {
    while (this.undos.length > depth) this.undos.pop()?.();
  }

  /** Takes what a literal says; gives literals that cannot hold together. */
  assert(atom: SlotAtom, literal: Literal): Literal[] | undefined {
    const holds = (literal & 1) === 0;
    if (atom.says === 'in') {
      const mask = holds ? atom.mask : this.cells(atom.slot).full & ~atom.mask;
      return this.restrict({ slot: atom.slot, mask, literal });
    }
    return holds ? this.join(atom.a, atom.b, literal) : this.separate({ a: atom.a, b: atom.b, literal });
  }

  /** Whether what was asserted makes this so, or this leaves more choice than its opposite. */
  suggests(atom: SlotAtom): boolean {
    if (atom.says === 'equal') {
      const [a, b] = [this.find(atom.a), this.find(atom.b)];
      return a === b || (this.masks[a] === this.masks[b] && this.capacity(a) === 1);
    }
    const mask = this.masks[this.find(atom.slot)] ?? 0n;
    const cells = this.cells(atom.slot);
    return cells.capacityOf(mask & atom.mask) > cells.capacityOf(mask & ~atom.mask);
  }

  /** Looks at a full assignment: whether every class can have a value of its own where it has to differ. */
  finish(): { readonly conflict: Literal[] } | { readonly clauses: Literal[][] } | undefined {
    for (const { a, b, literal } of this.allDifferences) {
      const mask = this.masks[this.find(a)] ?? 0n;
      if (mask !== this.masks[this.find(b)] || this.cells(a).capacityOf(mask) > 1) continue;
      return { conflict: [literal, ...this.explainMask(a, mask), ...this.explainMask(b, mask)] };
    }
    const clauses = this.stuckClasses().flatMap((slot) => this.splitOf(slot));
    return clauses.length > 0 ? { clauses } : undefined;
  }

  /** A value for each slot, in accordance with all that was asserted; call only where `finish` had nothing to say. */
  values(): Value[] {
    const byRoot = new Map<number, Value>();
    const neighbours = this.neighbours();
    const roots = this.roots();
    const order = [
      ...roots.filter((root) => this.capacity(root) === 1),
      ...[...this.peel(neighbours).order].reverse(),
      ...roots,
    ];
    for (const root of order) {
      if (byRoot.has(root)) continue;
      const taken = new Set([...(neighbours.get(root) ?? [])].flatMap((other) => byRoot.get(other) ?? []));
      byRoot.set(root, this.cells(root).pick(this.masks[root] ?? 0n, taken) ?? '');
    }
    return this.parents.map((_, slot) => byRoot.get(this.find(slot)) ?? '');
  }

  private cells(slot: number): Cells {
    const cells = this.cellsOf[slot];
    if (!cells) throw new Error(`There is no slot ${slot}`);
    return cells;
  }

  private capacity(root: number): number {
    return this.cells(root).capacityOf(this.masks[root] ?? 0n);
  }

  private find(slot: number): number {
    let root = slot;
    for (let parent = this.parents[root] ?? root; parent !== root; parent = this.parents[root] ?? root) root = parent;
    return root;
  }

  private roots(): number[] {
    return this.parents.flatMap((parent, slot) => (parent === slot ? [slot] : []));
  }

  private restrict(membership: Membership): Literal[] | undefined {
    const root = this.find(membership.slot);
    const before = this.masks[root] ?? 0n;
    const after = before & membership.mask;
    this.masks[root] = after;
    const list = this.memberships[root] ?? [];
    list.push(membership);
    this.undos.push(() => {
      this.masks[root] = before;
      list.pop();
    });
    return after === 0n ? this.explainMask(membership.slot, 0n) : undefined;
  }

  private separate(difference: Difference): Literal[] | undefined {
    const roots = [this.find(difference.a), this.find(difference.b)];
    const lists = roots.map((root) => this.differences[root] ?? []);
    for (const list of lists) list.push(difference);
    this.allDifferences.push(difference);
    this.undos.push(() => {
      for (const list of lists) list.pop();
      this.allDifferences.pop();
    });
    if (roots[0] !== roots[1]) return undefined;
    return [difference.literal, ...this.path(difference.a, difference.b)];
  }

  private join(a: number, b: number, literal: Literal): Literal[] | undefined {
    const [from, to] = [this.edges[a] ?? [], this.edges[b] ?? []];
    from.push({ to: b, literal });
    to.push({ to: a, literal });
    const [rootA, rootB] = [this.find(a), this.find(b)];
    if (rootA === rootB) {
      this.undos.push(() => {
        from.pop();
        to.pop();
      });
      return undefined;
    }
    const isSmaller = (this.sizes[rootA] ?? 1) < (this.sizes[rootB] ?? 1);
    const [child, parent] = isSmaller ? [rootA, rootB] : [rootB, rootA];
    const undo = this.merge(child, parent);
    this.undos.push(() => {
      undo();
      from.pop();
      to.pop();
    });
    if (this.masks[parent] === 0n) return this.explainMask(a, 0n);
    for (const difference of this.differences[child] ?? []) {
      if (this.find(difference.a) === this.find(difference.b)) {
        return [difference.literal, ...this.path(difference.a, difference.b)];
      }
    }
    return undefined;
  }

  private merge(child: number, parent: number): () => void {
    const mask = this.masks[parent] ?? 0n;
    const [memberships, differences] = [this.memberships[parent] ?? [], this.differences[parent] ?? []];
    const [memberCount, differenceCount] = [memberships.length, differences.length];
    this.parents[child] = parent;
    this.sizes[parent] = (this.sizes[parent] ?? 1) + (this.sizes[child] ?? 1);
    this.masks[parent] = mask & (this.masks[child] ?? 0n);
    memberships.push(...(this.memberships[child] ?? []));
    differences.push(...(this.differences[child] ?? []));
    return () => {
      this.parents[child] = child;
      this.sizes[parent] = (this.sizes[parent] ?? 1) - (this.sizes[child] ?? 1);
      this.masks[parent] = mask;
      memberships.length = memberCount;
      differences.length = differenceCount;
    };
  }

  /** The equalities of a shortest path between two slots of one class. */
  private path(from: number, to: number): Literal[] {
    const cameBy = new Map<number, { readonly slot: number; readonly literal: Literal }>();
    const waiting = [from];
    for (let position = 0; position < waiting.length && !cameBy.has(to) && from !== to; position++) {
      const slot = waiting[position] ?? from;
      for (const { to: next, literal } of this.edges[slot] ?? []) {
        if (next === from || cameBy.has(next)) continue;
        cameBy.set(next, { slot, literal });
        waiting.push(next);
      }
    }
    const literals: Literal[] = [];
    for (let step = cameBy.get(to); step; step = cameBy.get(step.slot)) literals.push(step.literal);
    return literals;
  }

  /**
   * Literals by which the class of a slot has no cell outside `mask`: memberships none of which can be spared, and paths to them.
   */
  private explainMask(slot: number, mask: bigint): Literal[] {
    let needed = [...(this.memberships[this.find(slot)] ?? [])];
    const { full } = this.cells(slot);
    const isEnough = (some: readonly Membership[]): boolean =>
      (some.reduce((left, one) => left & one.mask, full) & ~mask) === 0n;
    for (const one of [...needed]) {
      const rest = needed.filter((other) => other !== one);
      if (isEnough(rest)) needed = rest;
    }
    return [...new Set(needed.flatMap((one) => [one.literal, ...this.path(slot, one.slot)]))];
  }

  /** For each class those it has to differ from. */
  private neighbours(): Map<number, Set<number>> {
    const neighbours = new Map<number, Set<number>>();
    const link = (a: number, b: number): void => {
      const known = neighbours.get(a);
      if (known) known.add(b);
      else neighbours.set(a, new Set([b]));
    };
    for (const { a, b } of this.allDifferences) {
      link(this.find(a), this.find(b));
      link(this.find(b), this.find(a));
    }
    return neighbours;
  }

  /**
   * Takes away, one after the other, classes that have more values to choose from than neighbours: whatever those take, one is
   * left. Classes with a single value do not take part; their values are taken off their neighbours' choice.
   */
  private peel(neighbours: ReadonlyMap<number, ReadonlySet<number>>): {
    readonly order: number[];
    readonly stuck: number[];
  } {
    const isSettled = (root: number): boolean => this.capacity(root) === 1;
    let stuck = [...neighbours.keys()].filter((root) => !isSettled(root));
    const order: number[] = [];
    for (let isDone = false; !isDone; ) {
      const rest = new Set(stuck);
      const free = stuck.find((root) => {
        const others = [...(neighbours.get(root) ?? [])];
        const taken = others.filter(isSettled).reduce((mask, other) => mask | (this.masks[other] ?? 0n), 0n);
        const choice = this.cells(root).capacityOf((this.masks[root] ?? 0n) & ~taken);
        return choice > others.filter((other) => rest.has(other)).length;
      });
      isDone = free === undefined;
      if (free !== undefined) order.push(free);
      stuck = stuck.filter((root) => root !== free);
    }
    return { order, stuck };
  }

  private stuckClasses(): number[] {
    return this.allDifferences.length === 0 ? [] : this.peel(this.neighbours()).stuck;
  }

  /** That a slot holds one of the values its sort has: each a literal of its own. */
  private splitOf(slot: number): Literal[][] {
    const { full } = this.cells(slot);
    const mask = this.masks[slot] ?? full;
    const inside = this.cells(slot)
      .singles(mask)
      .map((single) => this.findMembership(slot, single));
    // True of any slot: it lies in one of these cells, or outside all of them.
    return [mask === full ? inside : [...inside, negate(this.findMembership(slot, mask))]];
  }
}
