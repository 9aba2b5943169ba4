import { describe, expect, it } from 'vitest';
import { familyAt } from '../../server/src/core/features/family-at.ts';
import { openAt } from '../harness/open-at.ts';

const families = 'kind: family\nid: tern-2\nname: Tern 2\n---\nkind: family\nid: gull\nname: Gull\n';

function at(
  text: string,
  others: Readonly<Record<string, string>> = { 'families.yaml': families },
): string | undefined {
  const { file, offset } = openAt({ ...others, 'a.yaml': text });
  return familyAt(file, offset);
}

describe('the family at a cursor', () => {
  it('is the one whose record stands there', () => {
    expect(at(families.replace('Gull', 'Gu$0ll'), {})).toBe('gull');
    expect(at(families.replace('kind', '$0kind'), {})).toBe('tern-2');
  });

  it('is the one a drive belongs to, from wherever in its record', () => {
    expect(at('kind: drive\nid: d-1\nfamily: gull\nnotes: a$0\n---\nkind: drive\nid: d-2\nfamily: tern-2\n')).toBe(
      'gull',
    );
  });

  it('is none where a record belongs to several, to none, or to one that is not recorded', () => {
    expect(at('kind: rule\nid: r\napplies_to: {families: [gull, tern-2]}\nclaim: needs\n$0')).toBeUndefined();
    expect(at('kind: rule\nid: r\napplies_to: {families: [gull]}\nclaim: needs\n$0')).toBe('gull');
    expect(at('kind: maker\nid: wren\nname: W$0\n')).toBeUndefined();
    expect(at('kind: drive\nid: d-1\nfamily: auk$0\n')).toBeUndefined();
  });

  it('is none outside records', () => {
    expect(at('$0# nothing yet\n')).toBeUndefined();
    expect(at('kind: family\n$0')).toBeUndefined();
  });
});
