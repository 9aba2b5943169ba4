import { describe, expect, it } from 'vitest';
import { decodeVpd83 } from '../../server/src/core/captures/decode-vpd-83.ts';
import { findVpdPage } from '../../server/src/core/captures/vpd-page.ts';
import { asciiBytes, type DesignatorInput, encodeVpd83, hexBytes } from '../harness/encode-vpd.ts';

function decoded(bytes: Uint8Array) {
  const page = findVpdPage(bytes);
  if (!page) throw new Error('No page.');
  const { format, ...rest } = decodeVpd83(page);
  expect(format).toBe('vpd_83');
  return rest;
}

/** What is made of these names. */
function of(...designators: readonly DesignatorInput[]) {
  return decoded(encodeVpd83(designators));
}

const nothing = { values: {}, problems: [], unnamed: [] };
const naa = (digits: string, association = 0): DesignatorInput => ({
  type: 3,
  codeSet: 1,
  association,
  content: hexBytes(digits),
});
const named = (text: string): DesignatorInput => ({ type: 8, codeSet: 3, content: asciiBytes(text) });
const two = '2abc00005e123456';
const three = '3000000000000001';
const five = '500005e000530001';
const six = '600005e0005300010123456789abcdef';

describe('the world-wide name', () => {
  // Source of the order: Linux, drivers/scsi/scsi_lib.c, scsi_vpd_lun_id; NAA 3 last.
  it.each([
    ['NAA 6', [naa(six), naa(five)], six],
    ['NAA 6 wherever it stands', [naa(five), naa(six)], six],
    ['NAA 5 before NAA 2', [naa(two), naa(five)], five],
    ['NAA 2 before NAA 3', [naa(three), naa(two)], two],
    ['NAA 3 alone', [naa(three)], three],
    ['a name string before NAA 6', [naa(six), named(`naa.${five}`)], five],
    ['NAA 6 of two name strings', [named(`naa.${five}`), named(`NAA.${six.toUpperCase()}\0\0`)], six],
  ])('is %s', (_, designators, wwn) => {
    const { values, problems } = of(...designators);
    expect({ values, problems }).toStrictEqual({ values: { wwn }, problems: [] });
  });

  it.each<readonly [string, DesignatorInput, string]>([
    ['of another beginning', naa('400005e000530001'), '400005e000530001'],
    ['in another set of codes', { ...naa(five), codeSet: 2 }, five],
    ['of another type', { ...naa(five), type: 2 }, five],
    ['that is a string of digits alone', named(five), five],
    ['that is a name string of another kind', named('eui.0011'), 'eui.0011'],
    ['that has a string within', named(`x naa.${five}`), `x naa.${five}`],
    ['that is a name string in another set of codes', { ...named(`naa.${five}`), codeSet: 2 }, `naa.${five}`],
    ['that is a name string with what is no ASCII', named('naa.\u00e9'), '6e61612ee9'],
    [
      'that is a string where there ought to be bytes',
      { ...naa(five), codeSet: 3, content: asciiBytes(`naa.${five}`) },
      `naa.${five}`,
    ],
  ])('is none %s, which is kept', (_, designator, value) => {
    expect(of(designator)).toStrictEqual({ ...nothing, unnamed: [{ at: 'designator 1', value }] });
  });

  it('is said once where it stands several times', () => {
    expect(of(naa(five), named(`naa.${five}`), naa(five))).toStrictEqual({ ...nothing, values: { wwn: five } });
  });

  it('leaves others as they are', () => {
    expect(of(naa(three), naa(five), naa(six))).toStrictEqual({
      ...nothing,
      values: { wwn: six },
      unnamed: [
        { at: 'designator 1', value: three },
        { at: 'designator 2', value: five },
      ],
    });
  });

  it('is one of two of one kind, which is said', () => {
    const other = '500005e000530002';
    const error = {
      severity: 'error',
      message: `The drive gives itself two world-wide names of one kind, \`${five}\` and \`${other}\`.`,
    };
    expect(of(naa(five), naa(other))).toStrictEqual({
      values: { wwn: five },
      problems: [error],
      unnamed: [{ at: 'designator 2', value: other }],
    });
    expect(of(named(`naa.${five}`), named(`naa.${other}`)).problems).toEqual([error]);
    // One as a string and one in bytes are of two kinds.
    expect(of(named(`naa.${five}`), naa(other)).problems).toEqual([]);
  });

  it('is not that of a port or of the device', () => {
    expect(of(naa(five, 1), naa(six, 2), naa(two, 3))).toStrictEqual({
      ...nothing,
      unnamed: [
        { at: 'designator 1 (target port)', value: five },
        { at: 'designator 2 (target device)', value: six },
        { at: 'designator 3 (reserved)', value: two },
      ],
    });
  });
});

describe('an ATA drive that is translated', () => {
  // Source of the form: Linux, drivers/ata/libata-scsi.c: 8 characters of vendor, 40 of model, 20 of serial number.
  const t10 = (
    model: string,
    serial: string,
    vendor = 'ATA',
    more: Partial<DesignatorInput> = {},
  ): DesignatorInput => ({
    type: 1,
    codeSet: 2,
    content: asciiBytes(`${vendor.padEnd(8)}${model.padEnd(40)}${serial.padEnd(20)}`),
    ...more,
  });
  const vendorOwn = (serial: string): DesignatorInput => ({
    type: 0,
    codeSet: 2,
    content: asciiBytes(serial.padEnd(20)),
  });

  it('tells model and serial number, also in a name of their own', () => {
    expect(of(vendorOwn('WRN0A4F2K'), t10('WREN TERN 2', 'WRN0A4F2K'), naa(five))).toStrictEqual({
      ...nothing,
      values: { model: 'WREN TERN 2', serial: 'WRN0A4F2K', wwn: five },
    });
  });

  it('tells all of a model that fills its room', () => {
    const model = 'WREN TERN 2'.padEnd(40, 'X');
    expect(of(t10(model, 'WRN0A4F2K'))).toStrictEqual({ ...nothing, values: { model, serial: 'WRN0A4F2K' } });
  });

  it('tells what it holds of them', () => {
    expect(of(t10('WREN TERN 2', ''))).toStrictEqual({ ...nothing, values: { model: 'WREN TERN 2' } });
    expect(of(t10('', 'WRN0A4F2K'))).toStrictEqual({ ...nothing, values: { serial: 'WRN0A4F2K' } });
  });

  it('keeps a name of its own that says something else', () => {
    expect(of(t10('WREN TERN 2', 'WRN0A4F2K'), vendorOwn('WRN0B9Q1C'))).toStrictEqual({
      values: { model: 'WREN TERN 2', serial: 'WRN0A4F2K' },
      problems: [],
      unnamed: [{ at: 'designator 2', value: 'WRN0B9Q1C' }],
      likelySerials: ['WRN0B9Q1C'],
    });
    const ofType = { ...vendorOwn('WRN0A4F2K'), type: 4 };
    expect(of(t10('WREN TERN 2', 'WRN0A4F2K'), ofType).unnamed).toEqual([{ at: 'designator 2', value: 'WRN0A4F2K' }]);
  });

  it.each<readonly [string, DesignatorInput, string]>([
    ['another vendor', t10('TERN', 'WRN0A4F2K', 'WREN'), `TERN${' '.repeat(36)}WRN0A4F2K`],
    [
      'another length',
      { ...t10('TERN', 'WRN0A4F2K'), content: asciiBytes(`ATA     ${'TERN'.padEnd(40)}WRN0A4F2K`) },
      `TERN${' '.repeat(36)}WRN0A4F2K`,
    ],
    ['a model that is no text', t10('T\u0001', 'WRN0A4F2K'), `T\u0001${' '.repeat(38)}WRN0A4F2K`],
    ['a serial number that is no text', t10('TERN', 'W\u0001'), `TERN${' '.repeat(36)}W\u0001`],
  ])('is not told by %s, which may hold a serial number', (_, designator, likely) => {
    const { values, problems, unnamed, likelySerials } = of(designator);
    expect({ values, problems, likelySerials }).toStrictEqual({ values: {}, problems: [], likelySerials: [likely] });
    expect(unnamed.map(({ at }) => at)).toEqual(['designator 1']);
  });

  it('is not told by the name of a port, or by one of another type', () => {
    expect(of(t10('TERN', 'WRN0A4F2K', 'ATA', { association: 1 })).values).toEqual({});
    expect(of(t10('TERN', 'WRN0A4F2K', 'ATA', { type: 2 })).values).toEqual({});
  });
});

describe('what is kept', () => {
  it.each<[string, DesignatorInput, object, (readonly string[])?]>([
    ['bytes', { type: 2, codeSet: 1, content: asciiBytes('AB') }, { at: 'designator 1', value: '4142' }],
    ['text', { type: 2, codeSet: 2, content: asciiBytes(' AB ') }, { at: 'designator 1', value: 'AB' }],
    [
      'text in another set of codes',
      { type: 4, codeSet: 3, content: asciiBytes('AB') },
      { at: 'designator 1', value: 'AB' },
    ],
    ['text that is none', { type: 2, codeSet: 2, content: hexBytes('01ff') }, { at: 'designator 1', value: '01ff' }],
    ['text of spaces', { type: 2, codeSet: 2, content: asciiBytes('  ') }, { at: 'designator 1', value: '2020' }],
    [
      "the vendor's own",
      { type: 0, codeSet: 2, content: asciiBytes('XY77Q1ZZ') },
      { at: 'designator 1', value: 'XY77Q1ZZ' },
      ['XY77Q1ZZ'],
    ],
    [
      "the vendor's own in bytes",
      { type: 0, codeSet: 1, content: asciiBytes('XY') },
      { at: 'designator 1', value: '5859' },
      ['XY'],
    ],
    [
      'vendor and what stands behind',
      { type: 1, codeSet: 2, content: asciiBytes('WREN    XY77') },
      { at: 'designator 1', value: 'WREN    XY77' },
      ['XY77'],
    ],
    ['a vendor alone', { type: 1, codeSet: 2, content: asciiBytes('WREN    ') }, { at: 'designator 1', value: 'WREN' }],
    [
      "a port's, which is not the owner's",
      { type: 0, codeSet: 2, association: 1, content: asciiBytes('XY77') },
      { at: 'designator 1 (target port)', value: 'XY77' },
    ],
  ])('is %s', (_, designator, field, likelySerials) => {
    const likely = likelySerials === undefined ? {} : { likelySerials };
    expect(of(designator)).toStrictEqual({ ...nothing, unnamed: [field], ...likely });
  });

  it('has its place among all', () => {
    const { unnamed } = of(naa(five), { type: 2, codeSet: 2, content: asciiBytes('A') }, naa(six, 1));
    expect(unnamed).toEqual([
      { at: 'designator 2', value: 'A' },
      { at: 'designator 3 (target port)', value: six },
    ]);
  });

  it('is read from the lower half of its bytes', () => {
    const page = encodeVpd83([naa(five)]);
    // The upper halves hold a protocol and whether it counts. Source: SPC, designation descriptor.
    page[4] = 0x61;
    page[5] = 0xc3;
    expect(decoded(page)).toStrictEqual({ ...nothing, values: { wwn: five } });
  });
});

describe('a page', () => {
  it('without names says so', () => {
    expect(of()).toStrictEqual({
      ...nothing,
      problems: [{ severity: 'warning', message: 'The page holds no names.' }],
    });
  });

  it.each([
    ['in a name', 12],
    ['in the length of a name', 4],
    ['before its last byte', 1],
  ])('whose second name goes on behind it, %s', (_, cut) => {
    const page = encodeVpd83([naa(five), naa(six, 1)]).slice(0, -cut);
    page[3] = page.length - 4;
    expect(decoded(page)).toStrictEqual({
      values: { wwn: five },
      problems: [{ severity: 'error', message: 'Designator 2 reaches beyond the end of the page.' }],
      unnamed: [],
    });
  });

  it.each([1, 2, 3])('with %i bytes behind the names', (count) => {
    const page = Uint8Array.from([...encodeVpd83([naa(five)]), ...new Uint8Array(count)]);
    page[3] = page.length - 4;
    expect(decoded(page).problems).toEqual([
      { severity: 'error', message: 'Designator 2 reaches beyond the end of the page.' },
    ]);
  });

  it('that was cut short says that once', () => {
    expect(decoded(encodeVpd83([naa(five), naa(six, 1)]).subarray(0, 20))).toStrictEqual({
      values: { wwn: five },
      problems: [{ severity: 'error', message: 'Only 20 of 36 bytes are there: the page was cut short.' }],
      unnamed: [],
    });
  });

  it('with an empty name reads the next', () => {
    const empty = { type: 2, codeSet: 1, content: new Uint8Array() };
    expect(of(empty, naa(five))).toStrictEqual({
      ...nothing,
      values: { wwn: five },
      unnamed: [{ at: 'designator 1', value: '' }],
    });
  });
});
