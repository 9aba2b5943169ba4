import { describe, expect, it } from 'vitest';
import type { Intent } from '../../server/src/core/edits/intent.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { insert, remove, rename, set } from '../harness/edited-text.ts';

/** How often the text as it was at first is asked for its documents: more often where further intents are carried out on it. */
function looksAtFirst(text: string, intents: readonly Intent[]): number {
  const { tape } = readText(text);
  let looks = 0;
  const counting = {
    ...tape,
    get documents() {
      looks++;
      return tape.documents;
    },
  };
  planEdits({ tape: counting, contentId: 'c' }, intents);
  return looks;
}

const text = 'a: 1\nb: "2"\nc:\n  a: 3\n  d: |\n    x\ne: [4]\n---\na: 5\n';

describe('intents carried out before the text is read again', () => {
  it.each<[string, Intent, Intent, boolean]>([
    ['scalars', set(['a'], 7), set(['b'], 8), true],
    ['scalars from behind', set(['b'], 7), set(['a'], 8), true],
    ['scalars of several documents', set(['a'], 7), set(['a'], 8, 1), true],
    ['scalars in maps and lists', set(['c', 'a'], 7), set(['e', 0], 8), true],
    ['names', rename(['a'], 'f'), rename(['b'], 'g'), true],
    ['a name and another value', rename(['a'], 'f'), set(['b'], 8), true],
    ['a name and the value of a key of that name elsewhere', rename(['a'], 'f'), set(['c', 'a'], 8), true],
    ['a name and the like in another document', rename(['a'], 'f'), rename(['a'], 'f', 1), true],
    ['a name further in and its like outside', rename(['c', 'a'], 'f'), set(['a'], 8), true],
    ['a value and its name', set(['a'], 7), rename(['a'], 'f'), true],
    ['values of one key', set(['a'], 7), set(['a'], 8), false],
    ['a name and its value', rename(['a'], 'f'), set(['a'], 8), false],
    ['a name and what it held', rename(['c'], 'f'), set(['c', 'a'], 8), false],
    ['a name that another gives up', rename(['a'], 'f'), rename(['b'], 'a'), false],
    ['one name for two', rename(['a'], 'f'), rename(['b'], 'f'), false],
    ['block texts', set(['a'], 7), set(['c', 'd'], 'x'), false],
    ['texts over lines', set(['a'], 7), set(['b'], 'x\ny'), false],
    ['maps', set(['a'], 7), set(['b'], { c: 1 }), false],
    ['new keys', set(['a'], 7), set(['f'], 8), false],
    ['removals', set(['a'], 7), remove('b'), false],
    ['insertions', set(['a'], 7), insert(['e', 0], 8), false],
  ])('%s', (_, first, second, areTogether) => {
    // A new key is looked for, and then added once the text is read again.
    const apart = looksAtFirst(text, [first, set(['z'], 8)]);
    const looks = looksAtFirst(text, [first, second]);
    expect(looks > apart).toBe(areTogether);
  });

  it('come to edits that are sorted', () => {
    const { tape } = readText(text);
    const planned = planEdits({ tape, contentId: 'c' }, [set(['e', 0], 44), set(['b'], 'x'), set(['a'], 11)]);
    if (isRefusal(planned)) throw new Error(planned.refused);
    expect(planned.edits.map(({ start }) => start)).toEqual([3, 8, 39]);
    expect(replaceIn(text, planned.edits)).toBe('a: 11\nb: "x"\nc:\n  a: 3\n  d: |\n    x\ne: [44]\n---\na: 5\n');
  });
});
