/**
 * World-wide names by their NAA layout: a first digit that says how the rest is divided.
 * Source: T10 SPC, NAA designator formats, as sg3_utils decodes them (from memory of the standard).
 * Laws (test/property/wwn.property.test.ts):
 * - prefix, `0x`, spaces and case change nothing
 * - the prefix of a name is the one it was built with
 * - never throws
 */
import { plural } from '../text/plural.ts';

/** The layouts of names: 2, 5 and 6 hold a company's prefix, 3 is assigned locally and holds none. */
type Naa = 2 | 3 | 5 | 6;

/** A world-wide name taken apart. */
export interface Wwn {
  readonly naa: Naa;
  /** All digits, lower case: 16, of NAA 6 32. */
  readonly digits: string;
  /** IEEE prefix such as `00-00-5E`; undefined for NAA 3. */
  readonly oui: string | undefined;
}

/** Why a text is no world-wide name. `says` completes "`wwn` `…` …". */
export interface WwnFault {
  readonly says: string;
}

interface Layout {
  readonly digits: number;
  /** Position of the six digits of the prefix. */
  readonly ouiAt: number | undefined;
}

const layouts: Readonly<Record<Naa, Layout>> = {
  2: { digits: 16, ouiAt: 4 },
  3: { digits: 16, ouiAt: undefined },
  5: { digits: 16, ouiAt: 1 },
  6: { digits: 32, ouiAt: 1 },
};

/** Takes a name apart; `0x` or `naa.` before it and spaces within are accepted. Never throws. */
export function parseWwn(text: string): Wwn | WwnFault {
  const digits = text
    .replace(/\s+/g, '')
    .toLowerCase()
    .replace(/^(?:0x|naa\.)/, '');
  const [stranger] = /[^0-9a-f]/u.exec(digits) ?? [];
  if (stranger !== undefined) return { says: `holds \`${stranger}\`, which is no hexadecimal digit` };
  const naa = naaOf(digits);
  if (naa === undefined && digits.length !== 16) return { says: lengthFault(digits, 16) };
  if (naa === undefined) {
    return { says: `begins with \`${digits.charAt(0)}\`, but the first digit of a world-wide name is 2, 3, 5 or 6` };
  }
  const layout = layouts[naa];
  if (digits.length !== layout.digits) return { says: lengthFault(digits, layout.digits) };
  const oui = layout.ouiAt === undefined ? undefined : toOui(digits.slice(layout.ouiAt, layout.ouiAt + 6));
  return { naa, digits, oui };
}

/**
 * The digits that the company, or of NAA 3 the owner, gave out itself, in one or two numbers.
 * Source: T10 SPC, NAA designator formats, as sg3_utils decodes them.
 */
export function assignedNumbers({ naa, digits }: Wwn): readonly string[] {
  switch (naa) {
    case 2:
      return [digits.slice(1, 4), digits.slice(10)];
    case 3:
      return [digits.slice(1)];
    case 5:
      return [digits.slice(7)];
    case 6:
      return [digits.slice(7, 16), digits.slice(16)];
  }
}

/** Whether two texts are the same name; undefined where one of them is none. */
export function isSameWwn(a: string, b: string): boolean | undefined {
  const left = parseWwn(a);
  const right = a === b ? left : parseWwn(b);
  return 'says' in left || 'says' in right ? undefined : left.digits === right.digits;
}

function naaOf(digits: string): Naa | undefined {
  const naa = Number.parseInt(digits.charAt(0), 16);
  return naa === 2 || naa === 3 || naa === 5 || naa === 6 ? naa : undefined;
}

function lengthFault(digits: string, wanted: number): string {
  const kind = wanted === 16 ? 'a world-wide name' : 'one that begins with 6';
  return `has ${plural(digits.length, 'hexadecimal digit')}, but ${kind} has ${wanted}`;
}

function toOui(digits: string): string {
  return digits.toUpperCase().replace(/(..)(?=.)/g, '$1-');
}
