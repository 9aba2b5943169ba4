import { describe, expect, it } from 'vitest';
import { type Completions, completionsAt } from '../../server/src/core/features/completion.ts';
import type { CompletionItem } from '../../server/src/core/features/completion-item.ts';
import { openAt } from '../harness/open-at.ts';

const base = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren Works\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nform_factor: 3.5in\n',
  'boards/kestrel.yaml': `kind: board
id: kestrel
maker: wren
part_number: K-40
revisions:
  - {rev: "1", controller: KR5}
  - {rev: B2, controller: [KR6, KR7], motor_driver: MD6}
`,
  'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
model: NT10
board: {id: kestrel, rev: B2}
---
kind: drive
id: d-0118
family: tern-2
---
kind: drive
id: d-0119
family: tern-2
`,
  'outcomes/first.yaml': `kind: outcome
id: 2026-03-14-tern-117-118
date: 2026-03-14
patient: d-0117
donor: d-0118
reached: reads
result: works
`,
};

/** What is offered at `$0`, in a file of the base above. */
function offered(text: string, options: { hasSnippets?: boolean; isIndexed?: boolean; path?: string } = {}): Offer {
  const { hasSnippets = false, isIndexed = true, path = 'new.yaml' } = options;
  const { file, offset } = openAt({ ...base, [path]: text }, { isIndexed });
  return new Offer(file.tape.text, completionsAt(file, offset, { hasSnippets }));
}

class Offer {
  constructor(
    private readonly text: string,
    readonly found: Completions | undefined,
  ) {}

  get labels(): readonly string[] {
    return (this.found?.items ?? []).map(({ label }) => label);
  }

  item(label: string): CompletionItem {
    const item = this.found?.items.find((candidate) => candidate.label === label);
    if (!item) throw new Error(`\`${label}\` is not offered, but ${this.labels.join(', ')}.`);
    return item;
  }

  /** The text once an item is chosen. */
  after(label: string): string {
    const { start, end } = this.found ?? { start: 0, end: 0 };
    return this.text.slice(0, start) + this.item(label).newText + this.text.slice(end);
  }
}

describe('keys', () => {
  it('are those still missing, before the cursor and after it, required ones first', () => {
    const { labels } = offered('kind: drive\nshelf: {}\n$0\nmodel: NT10\n');
    expect(labels.slice(0, 3)).toEqual(['id', 'family', 'parts']);
    expect(labels).not.toContain('shelf');
    expect(labels).not.toContain('model');
    expect(labels).not.toContain('kind');
  });

  it('replace what is typed of them, and bring a colon where there is none', () => {
    expect(offered('kind: drive\nfam$0\n').after('family')).toBe('kind: drive\nfamily: \n');
    expect(offered('kind: drive\nfa$0m: tern-2\n').after('family')).toBe('kind: drive\nfamily: tern-2\n');
  });

  it('make room for the map or list they hold', () => {
    expect(offered('kind: drive\nboa$0').after('board')).toBe('kind: drive\nboard:\n  ');
    expect(offered('kind: drive\nexam$0').after('examined')).toBe('kind: drive\nexamined:\n  - ');
    expect(offered('kind: board\nrevisions:\n  - rev: A\n    ro$0').after('roms')).toBe(
      'kind: board\nrevisions:\n  - rev: A\n    roms:\n      - ',
    );
    expect(offered('kind: drive\r\nboa$0').after('board')).toBe('kind: drive\r\nboard:\r\n  ');
  });

  it('stand between brackets where these are used', () => {
    const text = 'kind: rule\napplies_to: { $0 }\n';
    expect(offered(text, { hasSnippets: true }).item('made')).toMatchObject({
      newText: 'made: {$1\\}',
      isSnippet: true,
    });
    expect(offered(text, { hasSnippets: true }).item('families').newText).toBe('families: [$1]');
    expect(offered(text).after('families')).toBe('kind: rule\napplies_to: { families:  }\n');
    expect(offered('kind: rule\napplies_to: { makers: [wren], $0, families: [] }\n').labels).toEqual(['made']);
  });

  it('bring the dash of a list', () => {
    expect(offered('kind: drive\nexamined:\n  $0').after('on')).toBe('kind: drive\nexamined:\n  - on: ');
    expect(offered('kind: drive\nexamined:\n  - on: 2026-01-02\n  $0').after('on')).toBe(
      'kind: drive\nexamined:\n  - on: 2026-01-02\n  - on: ',
    );
  });

  it('say what they are', () => {
    const item = offered('kind: drive\n$0').item('family');
    expect(item.detail).toBe('Family (required)');
    expect(item.documentation).toMatch(/\.$/);
  });

  it('of the config and of its severities are known too', () => {
    expect(offered('swaplore: 1\nsev$0', { path: 'swaplore.yaml' }).labels).toContain('severity');
    expect(offered('swaplore: 1\nseverity:\n  $0', { path: 'swaplore.yaml' }).labels).toContain('outcome-breaks-rule');
  });

  it('of conditions are known at any depth', () => {
    expect(offered('kind: rule\nwhen:\n  any:\n    - $0').labels).toContain('rom_travels');
    expect(offered('kind: rule\nwhen: { none: [{ patient: { $0').labels).toContain('preamp');
  });
});

describe('values', () => {
  it('of a choice come with their meaning, in the order of the schema', () => {
    const found = offered('kind: outcome\nreached: $0');
    expect(found.labels).toEqual(['nothing', 'spins', 'ready', 'detected', 'reads', 'verified']);
    expect(found.item('spins').detail).not.toBe('');
    expect(offered('kind: outcome\nobserved:\n  spins: $0').labels).toEqual(['true', 'false']);
  });

  it('bring the space or the brackets that are missing', () => {
    expect(offered('kind: outcome\nreached:$0').after('reads')).toBe('kind: outcome\nreached: reads');
    expect(offered('kind: rule\nwhen: {same: $0}').after('rev')).toBe('kind: rule\nwhen: {same: [rev]}');
    expect(offered('kind: rule\nwhen:\n  same:\n    $0').after('rev')).toBe('kind: rule\nwhen:\n  same:\n    - rev');
  });

  it('are offered once in a list', () => {
    const { labels } = offered('kind: rule\nwhen: {same: [board, $0, rev]}');
    expect(labels).toContain('family');
    expect(labels).not.toContain('board');
    expect(labels).not.toContain('rev');
    expect(offered('kind: rule\nwhen:\n  same:\n    - $0\n    - rev\n').labels).not.toContain('rev');
  });

  it('replace the whole value, in the quotes it has', () => {
    expect(offered('kind: outcome\nreached: re$0ady # so far\n').after('reads')).toBe(
      'kind: outcome\nreached: reads # so far\n',
    );
    expect(offered('kind: outcome\nreached: "re$0"\n').after('reads')).toBe('kind: outcome\nreached: "reads"\n');
  });

  it('may stand between a tag and an anchor', () => {
    expect(offered('kind: outcome\nreached: !x $0&y z\n').labels).toContain('reads');
    expect(offered('kind: outcome\nreached: &y !x$0\n').labels).toEqual([]);
  });

  it('name the kinds where none is typed yet', () => {
    expect(offered('kind: $0').labels).toEqual(['maker', 'family', 'board', 'drive', 'outcome', 'rule']);
  });

  it('are not offered in comments, block text, markers, and behind what is closed', () => {
    const texts = [
      'kind: drive # $0',
      '# $0',
      'kind: drive\nnotes: >-\n  $0',
      'kind: rule\nwhen: {} $0',
      'kind: drive\n--$0',
    ];
    expect(texts.map((text) => offered(text).labels)).toEqual(texts.map(() => []));
  });
});

describe('ids', () => {
  it('are those of the kind asked for, with what tells them apart', () => {
    const found = offered('kind: outcome\npatient: $0');
    expect(found.labels).toEqual(['d-0117', 'd-0118', 'd-0119']);
    expect(found.item('d-0117').detail).toBe('tern-2, NT10, board kestrel/B2');
    expect(offered('kind: drive\nboard: {id: $0}').item('kestrel').detail).toBe('K-40, revisions 1 B2');
    expect(offered('kind: rule\nexceptions:\n  - outcome: $0').item('2026-03-14-tern-117-118').detail).toBe(
      'd-0117 with the board of d-0118, reads, works',
    );
  });

  it('narrow down with what is typed, and a long list says that there are more', () => {
    expect(offered('kind: outcome\npatient: 18$0').labels).toEqual(['d-0118']);
    const many = Array.from({ length: 150 }, (_, index) => `kind: maker\nid: m-${index}\nname: M\n`).join('---\n');
    const { file, offset } = openAt({ 'many.yaml': many, 'new.yaml': 'kind: family\nmaker: m-1$0' });
    const found = completionsAt(file, offset, { hasSnippets: false });
    expect(found?.isIncomplete).toBe(false);
    expect(found?.items).toHaveLength(61);
    const whole = openAt({ 'many.yaml': many, 'new.yaml': 'kind: family\nmaker: $0' });
    const cut = completionsAt(whole.file, whole.offset, { hasSnippets: false });
    expect(cut?.isIncomplete).toBe(true);
    expect(cut?.items).toHaveLength(100);
  });

  it('of revisions follow the board named beside them, quoted where YAML would read something else', () => {
    const text = 'kind: drive\nboard:\n  rev: $0\n  id: kestrel\n';
    expect(offered(text).labels).toEqual(['1', 'B2']);
    expect(offered(text).after('1')).toBe('kind: drive\nboard:\n  rev: "1"\n  id: kestrel\n');
    expect(offered('kind: drive\nboard: {id: kestrel, rev: B2, controller: $0}').labels).toEqual(['KR6', 'KR7']);
    expect(offered('kind: drive\nboard: {id: heron, rev: $0}').labels).toEqual([]);
  });

  it('of revisions in conditions name their board', () => {
    expect(offered('kind: rule\nwhen: {patient: {rev: $0}}').labels).toEqual(['kestrel/1', 'kestrel/B2']);
  });

  it('of the other revisions of a board are what one can stand in for', () => {
    const text = 'kind: board\nid: heron\nrevisions:\n  - rev: A\n  - rev: B\n    drop_in_for: [$0]\n  - rev: C\n';
    expect(offered(text).labels).toEqual(['A', 'C']);
  });
});

describe('the next id', () => {
  it('goes on counting where the ids of the kind are counted', () => {
    expect(offered('kind: drive\nid: $0').labels).toEqual(['d-0120']);
    expect(offered('kind: maker\nid: $0').labels).toEqual([]);
  });

  it('goes on with the numbers of its own file, and passes over those that are taken', () => {
    const shelf = 'kind: drive\nid: d-0201\nfamily: tern-2\n---\nkind: drive\nid: $0\n';
    expect(offered(shelf).labels).toEqual(['d-0202']);
    expect(offered(shelf.replace('0201', '0116')).labels).toEqual(['d-0120']);
    expect(offered('kind: drive\nid: d-0119$0', { path: 'drives/tern.yaml' }).labels).toEqual([]);
  });

  it('of an outcome is made of its date, the family and the two drives', () => {
    const text = 'kind: outcome\nid: $0\ndate: 2026-04-01\npatient: d-0118\ndonor: d-0119\n';
    expect(offered(text).labels).toEqual(['2026-04-01-tern-118-119']);
    const again = 'kind: outcome\nid: $0\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\n';
    expect(offered(again).labels).toEqual(['2026-03-14-tern-117-118-2']);
    expect(offered('kind: outcome\nid: $0\npatient: d-0118\ndonor: d-0119\n').labels).toEqual([]);
  });

  it('is kept back until every id is known', () => {
    const hidden = openAt({
      ...base,
      'hidden.yaml': '\u0000',
      'new.yaml': 'kind: drive\nid: $0',
    });
    expect(hidden.file.snapshot.mayMissIds).toBe(true);
    expect(completionsAt(hidden.file, hidden.offset, { hasSnippets: false })).toBeUndefined();
    expect(offered('kind: drive\nid: $0', { isIndexed: false }).labels).toEqual([]);
    expect(offered('kind: outcome\npatient: $0', { isIndexed: false }).found?.isIncomplete).toBe(true);
  });
});

describe('whole records', () => {
  it('are offered in an empty document', () => {
    const found = offered('kind: maker\n---\n$0', { hasSnippets: true });
    expect(found.labels).toEqual(['kind', 'maker', 'family', 'board', 'drive', 'outcome', 'rule']);
    expect(found.item('drive').newText).toBe(`kind: drive\nid: \${1:d-0120}\nfamily: $2`);
    expect(found.item('board').newText).toBe(
      'kind: board\nid: $1\nmaker: $2\npart_number: $3\nrevisions:\n  - rev: $4',
    );
    expect(found.item('rule').newText).toBe(`kind: rule\nid: $1\nclaim: \${2|needs,enough,prevents|}\nwhen:\n  $3`);
  });

  it('come without tab stops where the editor knows none, and not where something stands already', () => {
    expect(offered('dri$0').after('drive')).toBe('kind: drive\nid: d-0120\nfamily: ');
    expect(offered('id: d-1\n$0').labels).toEqual(['kind']);
  });
});
