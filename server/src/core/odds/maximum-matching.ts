/**
 * The most pairs that share no member, in any graph: augmenting paths with contracted blossoms.
 * Source: Edmonds, Paths, trees, and flowers, Canadian Journal of Mathematics 17 (1965) 449.
 * Laws (test/property/maximum-matching.property.test.ts):
 * - the chosen pairs are among the given ones and share no member
 * - no choice has more pairs
 * - the order of the pairs, and of the two in each, changes no count
 */

/** Two members, either way round. */
export type Edge = readonly [string, string];

/** As many of these pairs as possible such that no two share a member, each once. A member paired with itself is left out. */
export function maximumMatching(edges: Iterable<Edge>): Edge[] {
  const graph = new Graph(edges);
  const search = new Search(graph.neighbours);
  for (let root = 0; root < graph.names.length; root++) search.augmentFrom(root);
  return graph.names.flatMap((name, vertex): Edge[] => {
    const mate = search.mates[vertex] ?? none;
    return mate > vertex ? [[name, graph.names[mate] ?? '']] : [];
  });
}

/** No vertex. */
const none = -1;

/** Members numbered in the order of their first appearance. */
class Graph {
  readonly names: string[] = [];
  readonly neighbours: number[][] = [];
  private readonly numbers = new Map<string, number>();

  constructor(edges: Iterable<Edge>) {
    for (const [a, b] of edges) {
      if (a !== b) this.join(this.numberOf(a), this.numberOf(b));
    }
  }

  private numberOf(name: string): number {
    const known = this.numbers.get(name);
    if (known !== undefined) return known;
    this.numbers.set(name, this.names.length);
    this.neighbours.push([]);
    return this.names.push(name) - 1;
  }

  private join(a: number, b: number): void {
    this.neighbours[a]?.push(b);
    this.neighbours[b]?.push(a);
  }
}

/**
 * Looks for augmenting paths from one root after another. All vertices touched by a search are listed, so that only these are put
 * back before the next: a search costs what its own connected part costs, however large the graph.
 */
class Search {
  readonly mates: number[];
  /** The vertex by which a vertex at odd depth was reached. */
  private readonly parents: number[];
  /** The vertex a contracted blossom is known by. */
  private readonly bases: number[];
  /** Whether a vertex is at even depth, where edges lead on. */
  private readonly isOuter: boolean[];
  private touched = new Set<number>();

  constructor(private readonly neighbours: readonly (readonly number[])[]) {
    this.mates = neighbours.map(() => none);
    this.parents = neighbours.map(() => none);
    this.bases = neighbours.map((_, vertex) => vertex);
    this.isOuter = neighbours.map(() => false);
  }

  /** Pairs the root, and with it one more vertex, where that is possible. */
  augmentFrom(root: number): void {
    if (this.mateOf(root) !== none) return;
    let vertex = this.findFreeEnd(root);
    while (vertex !== none) {
      const parent = this.parentOf(vertex);
      const next = this.mateOf(parent);
      this.mates[vertex] = parent;
      this.mates[parent] = vertex;
      vertex = next;
    }
    this.putBack();
  }

  /** The far end of an augmenting path from the root, or none. */
  private findFreeEnd(root: number): number {
    const waiting: number[] = [];
    this.makeOuter(root, waiting);
    // The list grows while it is walked.
    for (const from of waiting) {
      for (const to of this.neighbours[from] ?? []) {
        if (this.baseOf(from) === this.baseOf(to) || this.mateOf(from) === to) continue;
        const mate = this.mateOf(to);
        if (to === root || (mate !== none && this.parentOf(mate) !== none)) {
          this.contract(from, to, waiting);
        } else if (this.parentOf(to) === none) {
          this.touched.add(to);
          this.parents[to] = from;
          if (mate === none) return to;
          this.makeOuter(mate, waiting);
        }
      }
    }
    return none;
  }

  private makeOuter(vertex: number, waiting: number[]): void {
    this.touched.add(vertex);
    this.isOuter[vertex] = true;
    waiting.push(vertex);
  }

  /** Makes one vertex of the odd circle that an edge between two outer vertices closes. */
  private contract(a: number, b: number, waiting: number[]): void {
    const base = this.commonBase(a, b);
    const inside = new Set<number>();
    this.markPath(a, base, b, inside);
    this.markPath(b, base, a, inside);
    for (const vertex of this.touched) {
      if (!inside.has(this.baseOf(vertex))) continue;
      this.bases[vertex] = base;
      if (!this.isOuter[vertex]) this.makeOuter(vertex, waiting);
    }
  }

  private commonBase(a: number, b: number): number {
    const above = new Set<number>();
    for (let vertex = this.baseOf(a); ; vertex = this.baseOf(this.parentOf(this.mateOf(vertex)))) {
      above.add(vertex);
      if (this.mateOf(vertex) === none) break;
    }
    let vertex = this.baseOf(b);
    while (!above.has(vertex)) vertex = this.baseOf(this.parentOf(this.mateOf(vertex)));
    return vertex;
  }

  /** Walks from an end of the closing edge up to the base and turns the parents round, so that paths can run either way. */
  private markPath(from: number, base: number, closing: number, inside: Set<number>): void {
    let child = closing;
    let vertex = from;
    while (this.baseOf(vertex) !== base) {
      const mate = this.mateOf(vertex);
      inside.add(this.baseOf(vertex)).add(this.baseOf(mate));
      this.parents[vertex] = child;
      child = mate;
      vertex = this.parentOf(mate);
    }
  }

  private putBack(): void {
    for (const vertex of this.touched) {
      this.parents[vertex] = none;
      this.bases[vertex] = vertex;
      this.isOuter[vertex] = false;
    }
    this.touched = new Set();
  }

  private mateOf(vertex: number): number {
    return this.mates[vertex] ?? none;
  }

  private parentOf(vertex: number): number {
    return this.parents[vertex] ?? none;
  }

  private baseOf(vertex: number): number {
    return this.bases[vertex] ?? none;
  }
}
