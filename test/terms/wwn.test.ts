import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { assignedNumbers, isSameWwn, parseWwn } from '../../server/src/core/terms/wwn.ts';

/** Device identification pages and what `sg_vpd` of sg3-utils 1.46 printed for them. */
const pages = fileURLToPath(new URL('../fixtures/vpd/', import.meta.url));

function readPage(name: string, form: 'hex' | 'txt'): string {
  return readFileSync(`${pages}pg83-${name}.${form}`, 'utf8');
}

/** The NAA designators of a page in hexadecimal: type 3 in code set 1. */
function designatorsOf(hex: string): string[] {
  const bytes = hex.trim().split(/\s+/);
  const found: string[] = [];
  let at = 4;
  while (at < bytes.length) {
    const [codeSet = '', type = '', , length = ''] = bytes.slice(at, at + 4);
    const end = at + 4 + Number.parseInt(length, 16);
    if (codeSet.endsWith('1') && type.endsWith('3')) found.push(bytes.slice(at + 4, end).join(''));
    at = end;
  }
  return found;
}

/** What the tool printed of each: the layout, the prefix without leading zeros, the whole. */
function printedOf(text: string): { naa: number; oui: string | undefined; digits: string }[] {
  return text
    .split(/(?=NAA \d,)/)
    .slice(1)
    .map((part) => ({
      naa: Number(/^NAA (\d)/.exec(part)?.[1]),
      oui: /Company_id: 0x([0-9a-f]+)/.exec(part)?.[1]?.padStart(6, '0'),
      digits: /^ *\[?0x([0-9a-f]{16,32})\]?/m.exec(part)?.[1] ?? '',
    }));
}

describe('parseWwn on pages of real form', () => {
  it.each(['naa2', 'naa3', 'naa5', 'naa6', 'sat-like', 'target-port-and-lun'])('%s agrees with sg_vpd', (name) => {
    const parsed = designatorsOf(readPage(name, 'hex')).map((digits) => parseWwn(digits));
    const seen = parsed.map((wwn) =>
      'says' in wwn ? wwn : { naa: wwn.naa, oui: wwn.oui?.replaceAll('-', '').toLowerCase(), digits: wwn.digits },
    );
    const order = (a: object, b: object): number => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);
    expect(seen.sort(order)).toEqual(printedOf(readPage(name, 'txt')).sort(order));
    expect(seen.length).toBeGreaterThan(0);
  });

  it.each(['naa2', 'naa5', 'naa6'])('%s has the numbers that sg_vpd prints as given out by the company', (name) => {
    const printed = [
      ...readPage(name, 'txt').matchAll(/^ +(?:NAA 2, )?vendor specific identifier.*: 0x([0-9a-f]+)$/gim),
    ];
    const [wwn] = designatorsOf(readPage(name, 'hex')).map((digits) => parseWwn(digits));
    if (!wwn || 'says' in wwn) throw new Error('The page holds no world-wide name.');
    const withoutZeros = assignedNumbers(wwn).map((digits) => digits.replace(/^0+/, ''));
    expect(withoutZeros).toEqual(printed.map(([, digits]) => digits));
    expect(printed.length).toBeGreaterThan(0);
  });
});

describe('parseWwn', () => {
  it.each([
    '500005e000530001',
    '0x500005E000530001',
    'naa.500005e000530001',
    '5000 05E0 0053 0001',
    ' 5 00005e 000530001 ',
  ])('reads %s', (text) => {
    expect(parseWwn(text)).toEqual({ naa: 5, digits: '500005e000530001', oui: '00-00-5E' });
  });

  it.each([
    ['500005e00053000', 'has 15 hexadecimal digits, but a world-wide name has 16'],
    ['500005e0005300011', 'has 17 hexadecimal digits, but a world-wide name has 16'],
    ['5', 'has 1 hexadecimal digit, but a world-wide name has 16'],
    ['', 'has 0 hexadecimal digits, but a world-wide name has 16'],
    ['600005e000530001', 'has 16 hexadecimal digits, but one that begins with 6 has 32'],
    ['100005e000530001', 'begins with `1`, but the first digit of a world-wide name is 2, 3, 5 or 6'],
    ['500005e0005g0001', 'holds `g`, which is no hexadecimal digit'],
    ['50:00:05:e0:00:53:00:01', 'holds `:`, which is no hexadecimal digit'],
    ['eui.00005efffe005300', 'holds `u`, which is no hexadecimal digit'],
  ])('says why %s is none', (text, says) => {
    expect(parseWwn(text)).toEqual({ says });
  });
});

describe('isSameWwn', () => {
  it('compares digits only, and nothing with what is no name', () => {
    expect(isSameWwn('0x500005E000530001', 'naa.5000 05e0 0053 0001')).toBe(true);
    expect(isSameWwn('500005e000530001', '500005e000530002')).toBe(false);
    expect(isSameWwn('500005e000530001', '500005e00053000')).toBeUndefined();
  });
});
