import { describe, expect, it } from 'vitest';
import { remembered, rememberedWithin } from '../../server/src/core/terms/remembered.ts';

describe('remembered', () => {
  it('asks once for each object, also where nothing comes of it', () => {
    const asked: string[] = [];
    const lengthOf = remembered(({ text }: { readonly text: string }) => {
      asked.push(text);
      return text.length > 2 ? text.length : undefined;
    });
    const [long, short, alike] = [{ text: 'wren' }, { text: 'qx' }, { text: 'wren' }];
    expect([long, short, long, short, alike].map(lengthOf)).toEqual([4, undefined, 4, undefined, 4]);
    expect(asked).toEqual(['wren', 'qx', 'wren']);
  });

  it('keeps nothing of a computation that failed', () => {
    let isBroken = true;
    const nameOf = remembered(({ id }: { readonly id: string }) => {
      if (isBroken) throw new Error('broken');
      return id;
    });
    const one = { id: 'd-0117' };
    expect(() => nameOf(one)).toThrow('broken');
    isBroken = false;
    expect(nameOf(one)).toBe('d-0117');
  });
});

describe('rememberedWithin', () => {
  it('asks once for each object in each scope', () => {
    let count = 0;
    const nameIn = rememberedWithin(({ id }: { readonly id: string }, { base }: { readonly base: string }) => {
      count++;
      return `${base}/${id}`;
    });
    const drive = { id: 'd-0117' };
    const [before, after] = [{ base: 'before' }, { base: 'after' }];
    expect([before, after, before].map((scope) => nameIn(drive, scope))).toEqual([
      'before/d-0117',
      'after/d-0117',
      'before/d-0117',
    ]);
    expect(count).toBe(2);
  });
});
