import { describe, expect, it } from 'vitest';
import { nearestPhrase, nearNames } from '../../server/src/core/text/near-names.ts';

describe('near names', () => {
  it.each([
    ['a letter left out', 'chip_move', ['left', 'chip_moved', 'copied'], ['chip_moved']],
    ['a letter too many', 'famiily', ['family', 'file'], ['family']],
    ['a wrong letter', 'outcame', ['outcome', 'rule'], ['outcome']],
    ['two neighbours swapped, which counts once', 'd-0181', ['d-0117', 'd-0118'], ['d-0118']],
    ['the name itself', 'drive', ['drive', 'drives'], ['drive']],
    ['case', 'FAMILY', ['family'], ['family']],
    ['dash, underscore and space are one', 'Tern_2  b', ['tern-2-b', 'tern-9'], ['tern-2-b']],
    ['letters beyond ASCII', 'größe', ['grösse', 'große'], ['große']],
    ['characters beyond U+FFFF', 'tern-😀-a', ['tern-😀-b'], ['tern-😀-b']],
    ['nothing close', 'platter', ['family', 'maker'], []],
    ['no names', 'family', [], []],
    ['nothing typed', '', ['a', 'drive'], []],
  ])('%s', (_, typed, names, near) => {
    expect(nearNames(typed, names)).toEqual(near);
  });

  it.each([
    ['a letter of one', 'a', 'b', false],
    ['a letter of two', 'B1', 'A1', false],
    ['the case of two', 'b1', 'B1', true],
    ['a letter of three', 'pcb', 'pca', true],
    ['two letters of three', 'pcb', 'pxx', false],
    ['two letters of five', 'drive', 'draft', false],
    ['two letters of six', 'maker1', 'maxxr1', true],
    ['three letters of six', 'maker1', 'mxxxr1', false],
    ['two letters of eight', 'capacity', 'capaxxty', true],
    ['three letters of eight', 'capacity', 'capxxxty', false],
    ['three letters of nine', 'abcdefghi', 'abcxxxghi', true],
    ['four letters of eighteen', 'abcdefghijklmnopqr', 'abcxxxxhijklmnopqr', false],
    ['three letters left out of eighteen', 'abcdefghijklmnopqr', 'abcdefghijklmno', true],
    ['four letters left out of eighteen', 'abcdefghijklmnopqr', 'abcdefghijklmn', false],
  ])('%s is near or not', (_, typed, name, isNear) => {
    expect(nearNames(typed, [name])).toEqual(isNear ? [name] : []);
  });

  // Source: the example that tells optimal string alignment (3) from Damerau-Levenshtein (2): "ca" to "abc" (from memory).
  it('counts "ca" for "abc" as three: a name that is two letters off is nearer', () => {
    expect(nearNames('xxxxxxxxxca', ['xxxxxxxxxabc'])).toEqual(['xxxxxxxxxabc']);
    expect(nearNames('xxxxxxxxxca', ['xxxxxxxxxabc', 'zzxxxxxxxca'])).toEqual(['zzxxxxxxxca']);
  });

  it('are those equally near, by name, three at most, whatever order they came in', () => {
    const names = ['tern-25', 'tern-13', 'tern-10', 'tern-99', 'tern-15', 'tern-11'];
    expect(nearNames('tern-12', names)).toEqual(['tern-10', 'tern-11', 'tern-13']);
    expect(nearNames('tern-12', names.toReversed())).toEqual(['tern-10', 'tern-11', 'tern-13']);
    expect(nearNames('tern-12', [...names, 'tern-21'])).toEqual(['tern-10', 'tern-11', 'tern-13']);
    expect(nearNames('tern-12', ['tern-21', 'tern-99'])).toEqual(['tern-21']);
  });

  it('are given as they are written', () => {
    expect(nearNames('chip-moved', new Set(['Chip_Moved']))).toEqual(['Chip_Moved']);
  });
});

describe('the phrase', () => {
  it.each([
    [[], undefined],
    [['a'], 'the nearest is `a`'],
    [['a', 'b'], 'the nearest are `a` and `b`'],
    [['a', 'b', 'c'], 'the nearest are `a`, `b` and `c`'],
  ])('for %j', (near, phrase) => {
    expect(nearestPhrase(near)).toBe(phrase);
  });
});
