/**
 * Numbers as shops write them, with or without a unit.
 * Laws (test/property/importing.property.test.ts):
 * - a number is read whichever sign its fraction has, if the map says which
 * - a number that both signs read differently is never read unless the map says which
 */
import type { Reading } from './reading.ts';

/** The sign before the fraction of a number. */
type DecimalSign = 'point' | 'comma';

/** How big each unit is, by what it measures. Source: IEC 80000-13 for bytes, the SI brochure for the rest. */
const dimensions: readonly Readonly<Record<string, number>>[] = [
  {
    bytes: 1,
    byte: 1,
    b: 1,
    kb: 1e3,
    mb: 1e6,
    gb: 1e9,
    tb: 1e12,
    kib: 2 ** 10,
    mib: 2 ** 20,
    gib: 2 ** 30,
    tib: 2 ** 40,
  },
  { s: 1, sec: 1, min: 60, h: 3600, d: 86_400 },
  { mm: 1, cm: 10 },
  { v: 1, mv: 1e-3 },
  { rpm: 1, 'u/min': 1 },
  { sectors: 1 },
  { weeks: 1 },
];

/** How often one unit holds another; undefined where they measure different things or one is not known. */
export function unitRatio(from: string, to: string): number | undefined {
  const [small, large] = [from.toLowerCase(), to.toLowerCase()];
  const found = dimensions.find((units) => Object.hasOwn(units, small) && Object.hasOwn(units, large));
  const [size, other] = [found?.[small], found?.[large]];
  return size === undefined || other === undefined ? undefined : size / other;
}

/** A number in the unit of its key. A unit in the cell counts more than what the map says of the column. */
export function readNumber(
  text: string,
  {
    decimal,
    unit,
    keyUnit,
  }: {
    readonly decimal?: DecimalSign | undefined;
    readonly unit?: string | undefined;
    readonly keyUnit?: string | undefined;
  },
): Reading<number> {
  const [, figures = '', written = ''] = /^([-+]?[\d.,'\u2019\s]*\d)(\D*)$/u.exec(text) ?? [];
  const number = readFigures(figures.replace(/['\u2019\s]+/gu, ''), decimal);
  if ('reason' in number) return number;
  const from = written.trim() || unit;
  if (from === undefined) return number;
  if (keyUnit === undefined) return { reason: `\`${from}\` stands behind a number that has no unit.` };
  const ratio = unitRatio(from, keyUnit);
  if (ratio === undefined) return { reason: `\`${from}\` cannot be turned into ${keyUnit}.` };
  // Twelve digits are more than anybody measures, and hide what binary fractions make of 0.1.
  return { value: Number((number.value * ratio).toPrecision(12)) };
}

const grouped: Readonly<Record<DecimalSign, RegExp>> = {
  point: /^[-+]?(?:\d+|\d{1,3}(?:,\d{3})+)(?:\.\d+)?$/,
  comma: /^[-+]?(?:\d+|\d{1,3}(?:\.\d{3})+)(?:,\d+)?$/,
};

function readFigures(figures: string, decimal: DecimalSign | undefined): Reading<number> {
  const signs: readonly DecimalSign[] = decimal === undefined ? ['point', 'comma'] : [decimal];
  const found = new Set(signs.filter((sign) => grouped[sign].test(figures)).map((sign) => amountOf(figures, sign)));
  const [first, second] = found;
  if (first === undefined) {
    if (decimal === undefined || figures === '') return { reason: 'This is no number.' };
    return { reason: `This is no number in which the ${decimal} stands before the fraction.` };
  }
  if (second === undefined) return { value: first };
  return {
    reason: `This can be read as ${Math.min(first, second)} and as ${Math.max(first, second)}.`,
    help: 'Say under `decimal` which sign stands before the fraction.',
  };
}

function amountOf(figures: string, sign: DecimalSign): number {
  return Number(sign === 'point' ? figures.replaceAll(',', '') : figures.replaceAll('.', '').replace(',', '.'));
}
