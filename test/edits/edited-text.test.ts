import { describe, expect, it } from 'vitest';
import { EditedText } from '../../server/src/core/edits/edited-text.ts';
import { applyEdits, isRefusal, replaceIn, type TextEdit } from '../../server/src/core/edits/text-edit.ts';

const edit = (start: number, end: number, text: string): TextEdit => ({ start, end, text });

describe('a text that is edited step by step', () => {
  it.each<[string, readonly (readonly TextEdit[])[], string, readonly TextEdit[]]>([
    ['nothing', [], 'abcdef', []],
    ['no edits', [[]], 'abcdef', []],
    ['one edit', [[edit(1, 3, 'X')]], 'aXdef', [edit(1, 3, 'X')]],
    ['an insertion', [[edit(3, 3, 'XY')]], 'abcXYdef', [edit(3, 3, 'XY')]],
    ['a removal', [[edit(0, 2, '')]], 'cdef', [edit(0, 2, '')]],
    ['at the beginning', [[edit(0, 0, 'X')]], 'Xabcdef', [edit(0, 0, 'X')]],
    ['at the end', [[edit(6, 6, 'X')]], 'abcdefX', [edit(6, 6, 'X')]],
    ['all of it', [[edit(0, 6, 'X')]], 'X', [edit(0, 6, 'X')]],
    ['all of it away', [[edit(0, 6, '')]], '', [edit(0, 6, '')]],
    ['two edits at once', [[edit(1, 2, 'XX'), edit(4, 5, '')]], 'aXXcdf', [edit(1, 2, 'XX'), edit(4, 5, '')]],
    ['two at one place', [[edit(2, 2, 'X'), edit(2, 2, 'Y')]], 'abXYcdef', [edit(2, 2, 'XY')]],
    ['side by side', [[edit(1, 2, 'X'), edit(2, 3, 'Y')]], 'aXYdef', [edit(1, 3, 'XY')]],
    ['one after the other', [[edit(4, 5, 'XX')], [edit(0, 1, '')]], 'bcdXXf', [edit(0, 1, ''), edit(4, 5, 'XX')]],
    ['within what was put in', [[edit(2, 4, 'WXYZ')], [edit(3, 5, '-')]], 'abW-Zef', [edit(2, 4, 'W-Z')]],
    ['before and in what was put in', [[edit(2, 4, 'WXYZ')], [edit(1, 3, '-')]], 'a-XYZef', [edit(1, 4, '-XYZ')]],
    ['in and behind what was put in', [[edit(2, 4, 'WXYZ')], [edit(5, 7, '-')]], 'abWXY-f', [edit(2, 5, 'WXY-')]],
    ['what was put in away again', [[edit(2, 2, 'XX')], [edit(2, 4, '')]], 'abcdef', []],
    ['back to what it was', [[edit(2, 4, 'X')], [edit(2, 3, 'cd')]], 'abcdef', []],
    ['the same again', [[edit(2, 4, 'cd'), edit(5, 6, 'F')]], 'abcdeF', [edit(5, 6, 'F')]],
    ['past the middle', [[edit(3, 3, 'X')], [edit(2, 5, '')], [edit(2, 2, 'Y')]], 'abYef', [edit(2, 4, 'Y')]],
  ])('%s', (_, steps, after, edits) => {
    const edited = new EditedText('abcdef');
    for (const step of steps) edited.apply(step);
    expect(edited.text).toBe(after);
    expect(edited.edits).toEqual(edits);
    expect(replaceIn('abcdef', edits)).toBe(after);
  });

  it('may be empty at first', () => {
    const edited = new EditedText('');
    expect(edited.edits).toEqual([]);
    edited.apply([edit(0, 0, 'X')]);
    expect(edited.text).toBe('X');
    expect(edited.edits).toEqual([edit(0, 0, 'X')]);
  });
});

describe('edits of a text', () => {
  it('are refused where they were made for another content', () => {
    const guarded = { contentId: 'c', edits: [edit(1, 2, 'X'), edit(2, 2, 'Y')] };
    expect(applyEdits({ text: 'abc', contentId: 'c' }, guarded)).toBe('aXYc');
    expect(applyEdits({ text: 'abc', contentId: 'd' }, guarded)).toEqual({
      refused: 'The file has changed since this edit was made.',
    });
  });

  it('are told from refusals', () => {
    expect(isRefusal({ refused: 'No.' })).toBe(true);
    expect(isRefusal({ edits: [] })).toBe(false);
    expect(isRefusal('refused')).toBe(false);
  });
});
