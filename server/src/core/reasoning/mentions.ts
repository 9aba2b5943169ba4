import type { Atom, FamilyKey, Formula, SideKey } from '../conditions/formula.ts';
import { splitRevision } from '../terms/revision-name.ts';
import { foldText } from '../text/fold.ts';
import type { Rule } from './rule.ts';

/** What the scope and condition of rules speak of. Ids and names are folded. */
export interface Mentions {
  readonly families: ReadonlySet<string>;
  readonly makers: ReadonlySet<string>;
  readonly boards: ReadonlySet<string>;
  /** Revisions, written BOARD/REV. */
  readonly revisions: ReadonlySet<string>;
  readonly sideKeys: ReadonlySet<SideKey>;
  readonly facts: ReadonlySet<FamilyKey>;
  /** Whether it matters that both boards are of one revision, or which revision claims to work in place of which. */
  readonly comparesRevisions: boolean;
  /** Each text as it is typed, by its folded form. */
  readonly spelling: ReadonlyMap<string, string>;
}

/** What these rules speak of. */
export function mentionsOf(rules: readonly Rule[]): Mentions {
  const reader = new Reader();
  for (const rule of rules) reader.readRule(rule);
  return reader;
}

class Reader implements Mentions {
  readonly families = new Set<string>();
  readonly makers = new Set<string>();
  readonly boards = new Set<string>();
  readonly revisions = new Set<string>();
  readonly sideKeys = new Set<SideKey>();
  readonly facts = new Set<FamilyKey>();
  readonly spelling = new Map<string, string>();
  comparesRevisions = false;

  readRule({ record, when }: Rule): void {
    const { families = [], makers = [], made } = record.data.applies_to ?? {};
    for (const family of families) this.families.add(foldText(family));
    for (const maker of makers) this.makers.add(foldText(maker));
    if (families.length > 0) this.sideKeys.add('family');
    if (made) this.sideKeys.add('made');
    this.readFormula(when);
  }

  private readFormula(formula: Formula): void {
    if (formula.op === 'atom') this.readAtom(formula.atom);
    else if (formula.op === 'not') this.readFormula(formula.part);
    else for (const part of formula.parts) this.readFormula(part);
  }

  private readAtom(atom: Atom): void {
    switch (atom.test) {
      case 'same':
        this.addKey(atom.key);
        if (atom.key === 'rev') this.comparesRevisions = true;
        return;
      case 'rom_travels':
        this.facts.add('adaptives');
        return;
      case 'drop_in':
        this.addKey('rev');
        this.comparesRevisions = true;
        return;
      case 'made_within':
        this.addKey('made');
        return;
      case 'side':
        this.addKey(atom.key);
        if ('anyOf' in atom.accepts) for (const value of atom.accepts.anyOf) this.addValue(atom.key, value);
        return;
      case 'family':
        this.facts.add(atom.key);
        return;
    }
  }

  private addKey(key: SideKey): void {
    this.sideKeys.add(key);
    if (key === 'rev') this.sideKeys.add('board');
  }

  private addValue(key: SideKey, value: string | number | boolean): void {
    if (typeof value !== 'string') return;
    const folded = foldText(value);
    if (!this.spelling.has(folded)) this.spelling.set(folded, value);
    if (key === 'family') this.families.add(folded);
    if (key === 'board') this.boards.add(folded);
    if (key !== 'rev') return;
    const { board, rev } = splitRevision(value);
    this.revisions.add(folded);
    this.boards.add(foldText(board));
    this.addValue('sticker', rev);
  }
}
