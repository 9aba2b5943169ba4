import { describe, expect, it } from 'vitest';
import { compareImages, type ImagesInput } from '../../server/src/core/rom-images/compare-images.ts';
import type { DriveOfImages } from '../../server/src/core/rom-images/drive-of-images.ts';
import { bytesOf, imageOf, joined, noise, readsOf, swappedIn, withAt } from '../harness/rom-bytes.ts';

const [own, others] = ['a'.repeat(64), 'b'.repeat(64)];

const content = noise(65_536, 5);
const erased = new Uint8Array(65_536).fill(0xff);
const lost = joined(content.subarray(0, 8_192), content.subarray(8_195), new Uint8Array(3).fill(0xff));
const flipped = [3, 5_000, 60_000].reduce<Uint8Array>(
  (bytes, at) => withAt(bytes, at, [(bytes[at] ?? 0) | 0x10]),
  content.map((byte) => byte & ~0x10),
);
const cleared = content.map((byte) => byte & ~0x10);

const drive: DriveOfImages = {
  id: 'd-0117',
  serial: { missing: 'not_recorded' },
  wwn: undefined,
  sha256: own,
  chip: undefined,
};

/** Two equal reads of the content. */
function twice(bytes: Uint8Array, sha256?: string): ImagesInput {
  return { read1: imageOf('a.bin', bytes, sha256), read2: imageOf('b.bin', bytes, sha256), recorded: [] };
}

function withDonor(bytes: Uint8Array, rest: Partial<ImagesInput> = {}): ImagesInput {
  return { ...twice(content), donorNow: imageOf('now.bin', bytes, others), ...rest };
}

const single: ImagesInput = { read1: imageOf('a.bin', content, own), recorded: [] };

const cases: readonly (readonly [name: string, input: ImagesInput, said: string])[] = [
  ['agree', twice(content), 'Both reads agree and hold 64 KiB that is not blank.'],
  [
    'agree',
    twice(joined(content, erased)),
    'Both reads agree and hold 128 KiB; 16 of 32 blocks are blank, the others are not.',
  ],
  [
    'reads_differ',
    readsOf(content, withAt(content, 9_000, [1, 2, 3])),
    'The reads differ in 1 block: read again before writing anything.',
  ],
  [
    'reads_one_way',
    readsOf(cleared, flipped),
    'The reads differ in 3 blocks, by 3 single bits, all of them 1 in read 2 and 0 in read 1: read again before writing anything.',
  ],
  [
    'reads_partly_blank',
    readsOf(content, withAt(content, 4_096, erased.subarray(0, 8_192))),
    'The reads differ in 2 blocks, which are blank in one of them only: read again before writing anything.',
  ],
  [
    'reads_blank',
    readsOf(erased, content),
    'All of read 1 is FFh, but read 2 holds something: read again before writing anything.',
  ],
  [
    'reads_blank',
    readsOf(
      erased,
      erased.map(() => 0),
    ),
    'Both reads are blank, each in its own way: read again before writing anything.',
  ],
  [
    'reads_shifted',
    readsOf(content, lost),
    'From 0x002000 on read 1 holds what read 2 holds 3 bytes earlier: read again before writing anything.',
  ],
  [
    'reads_swapped',
    readsOf(content, swappedIn(content, 2)),
    "The reads hold the same bytes, but those of each pair stand in the opposite order in one of them: find out which order is the chip's before writing anything.",
  ],
  [
    'reads_swapped',
    readsOf(content, swappedIn(content, 4)),
    "The reads hold the same bytes, but those of every four stand in the opposite order in one of them: find out which order is the chip's before writing anything.",
  ],
  [
    'reads_unequal_length',
    readsOf(content, content.subarray(0, 32_768)),
    'One read holds 64 KiB, the other 32 KiB and is the beginning of it: read again before writing anything.',
  ],
  ['empty', twice(new Uint8Array(0)), 'Both reads hold no bytes at all: there is nothing to write.'],
  ['blank', twice(erased), 'Both reads hold nothing but FFh: there is nothing to write.'],
  [
    'blank',
    { read1: imageOf('a.bin', new Uint8Array(9)), recorded: [] },
    'The read holds nothing but 00h: there is nothing to write.',
  ],
  [
    'one_pattern',
    twice(content.map((_, at) => [0x7f, 0xba, 0x60, 0x14][at % 4] ?? 0)),
    'Both reads hold nothing but `7F BA 60 14`, over and over, which is what a chip says that is asked for its identification (9Fh): there is nothing to write.',
  ],
  [
    'one_pattern',
    twice(content.map((_, at) => (at % 2 === 0 ? 0x55 : 0xaa))),
    'Both reads hold nothing but `55 AA`, over and over: there is nothing to write.',
  ],
  [
    'repeated',
    twice(joined(content, content, content, content)),
    'Both reads hold the same 64 KiB 4 times: the chip was read as larger than it is, or an address line is stuck.',
  ],
  [
    'size_of_no_chip',
    twice(noise(1_000_000, 3)),
    'Both reads hold 1,000,000 bytes, which is the size of no chip: something is missing, or something was added.',
  ],
  [
    'size_of_another_chip',
    { ...twice(content, own), drive: { ...drive, chip: { bytes: 131_072 } } },
    'Both reads hold 64 KiB, but the ROM of the board of `d-0117` is recorded with 128 KiB.',
  ],
  [
    'parameter_table',
    twice(joined(bytesOf('SFDP'), Uint8Array.of(6, 1, 1, 0xff), noise(248, 4))),
    'Both reads are a flash parameter table (SFDP 1.6) if the chip was read with command 5Ah, and not its content.',
  ],
  [
    'image_of_another_drive',
    {
      ...twice(content, others),
      drive: { ...drive, sha256: undefined },
      recorded: [{ drive: 'd-0118', sha256: others.toUpperCase() }],
    },
    'Both reads are the image recorded for `d-0118`, not one of `d-0117`.',
  ],
  [
    'not_the_recorded_image',
    { ...twice(content, others), drive },
    'Both reads are not the image recorded for `d-0117`: the sums differ.',
  ],
  [
    'single_read',
    single,
    'One read of 64 KiB proves nothing: read the chip again and compare before writing anything.',
  ],
  ['as_recorded', { ...single, drive }, 'The read is the image recorded for `d-0117`.'],
  ['arrived', withDonor(content), "The patient's image is on the donor's chip."],
  [
    'donor_blank',
    withDonor(erased),
    "The donor's chip holds nothing but FFh: nothing was written, or it was not reached.",
  ],
  ['donor_blank', withDonor(new Uint8Array(0)), "What was read from the donor's chip holds no bytes at all."],
  [
    'donor_holds_another',
    withDonor(noise(65_536, 9), { recorded: [{ drive: 'd-0118', sha256: others }] }),
    "The donor's chip holds the image recorded for `d-0118`, not the patient's.",
  ],
  [
    'donor_swapped',
    withDonor(swappedIn(content, 2)),
    "The donor's chip holds the patient's image with the bytes of each pair in the opposite order.",
  ],
  [
    'donor_larger',
    withDonor(joined(content, erased)),
    "The donor's chip holds 128 KiB, and the patient's image, 64 KiB, at its beginning.",
  ],
  [
    'donor_smaller',
    withDonor(content.subarray(0, 32_768)),
    "What was read from the donor's chip holds 32 KiB, but the patient's image 64 KiB.",
  ],
  [
    'donor_differs',
    withDonor(withAt(content, 9_000, [1, 2])),
    "The donor's chip differs from the patient's image in 1 of 16 blocks: it holds its own, or the patient's did not arrive whole.",
  ],
  [
    'donor_differs',
    withDonor(noise(65_536, 9)),
    "The donor's chip differs from the patient's image in 16 of 16 blocks: it still holds its own image, or another one.",
  ],
];

describe('the verdict', () => {
  it.each(cases)('%s: %#', (name, input, said) => {
    const [verdict] = compareImages(input).remarks;
    expect([verdict.case, verdict.message]).toEqual([name, said]);
  });

  it('forbids nothing where the reads agree, what was written arrived or the base vouches for it, and only there', () => {
    const allowed = new Set(['agree', 'as_recorded', 'arrived', 'donor_larger']);
    for (const [name, input] of cases) {
      expect(compareImages(input).remarks[0].severity === 'error', name).toBe(!allowed.has(name));
    }
  });
});

describe('what is said besides', () => {
  const said = (input: ImagesInput): readonly string[] =>
    compareImages(input)
      .remarks.slice(1)
      .map((one) => one.case);

  it('keeps a single read in mind when its image has arrived', () => {
    expect(said({ ...single, donorNow: imageOf('now.bin', content, own) })).toEqual(['written_from_one_read']);
  });

  it('does not compare the donor with reads that differ', () => {
    const input = { ...readsOf(content, flipped), donorNow: imageOf('now.bin', content) };
    expect(compareImages(input).donor).toBeUndefined();
    expect(said(input)).toEqual(['donor_not_compared']);
  });

  it('doubts a size no drive has as a rule, and letters that a table begins with', () => {
    expect(said(twice(noise(32_768, 3)))).toEqual(['unusual_size']);
    expect(said(twice(noise(67_584, 3)))).toEqual(['paged_size']);
    expect(said(twice(withAt(content, 0, bytesOf('SFDP'))))).toEqual(['begins_as_table']);
  });

  it('names the drive an image is recorded for where none was asked about', () => {
    expect(said({ ...twice(content, own), recorded: [{ drive: 'd-0117', sha256: own }] })).toEqual(['recorded_image']);
  });
});

describe('what is shown of a drive', () => {
  it('leaves a serial number out of the names of files', () => {
    const serial = { number: 'WRN0A4F2K', shown: '****4F2K' };
    const input = { ...single, read1: imageOf('roms/wrn0a4f2k-WRN0A4F2K.bin', content), drive: { ...drive, serial } };
    expect(compareImages(input).images.read1?.name).toBe('roms/****4F2K-****4F2K.bin');
    // Two capitals stand for the one small letter.
    const strasse = { ...input, read1: imageOf('großer Fuß/süß/WRN0A4F2K.bin', content) };
    expect(compareImages(strasse).images.read1?.name).toBe('großer Fuß/süß/****4F2K.bin');
  });
});

describe('what is said, wholly', () => {
  /** All that is said from one of the cases to another: severity, case and what to do. */
  const toldOf = (from: number, to?: number): readonly string[] =>
    cases.slice(from, to).map(([, input]) =>
      compareImages(input)
        .remarks.map(({ severity, case: name, help }) => `${severity} ${name}: ${help ?? '–'}`)
        .join(' | '),
    );

  it('of reads', () =>
    expect(toldOf(0, 12)).toMatchInlineSnapshot(`
    [
      "info agree: –",
      "info agree: –",
      "error reads_differ: Clean the contacts, seat the clip anew, check the supply voltage and read more slowly, until two reads in a row agree.",
      "error reads_one_way: Single bits that all go one way hint at a poor contact or at a supply voltage that is off. Clean the contacts, seat the clip anew, check the supply voltage and read more slowly, until two reads in a row agree.",
      "error reads_partly_blank: Contact was lost for a while. Seat the clip anew, and read until two reads in a row agree.",
      "error reads_blank: Check that the clip sits, that the chip has its supply voltage, and that nothing else on the board holds it in reset.",
      "error reads_blank: Check that the clip sits, that the chip has its supply voltage, and that nothing else on the board holds it in reset.",
      "error reads_shifted: Bytes were lost or read twice on the way. Read more slowly, over shorter wires, until two reads in a row agree.",
      "error reads_swapped: Read twice with one and the same setting for the order of bytes. Text in the image can be read where the order is right.",
      "error reads_swapped: Read twice with one and the same setting for the order of bytes. Text in the image can be read where the order is right.",
      "error reads_unequal_length: Set the size that belongs to the chip's marking, and let the read run to its end.",
      "error empty: Read the chip again.",
    ]
  `));
  it('of what they hold', () =>
    expect(toldOf(12, 18)).toMatchInlineSnapshot(`
      [
        "error blank: A chip that was not reached reads as blank, too. Check clip, supply voltage and chip select, and read again.",
        "error blank: A chip that was not reached reads as blank, too. Check clip, supply voltage and chip select, and read again. | error size_of_no_chip: Look up the size that belongs to the chip's marking, and read all of it.",
        "error one_pattern: Name the chip to the programmer by its marking, and read its content. | info agree: –",
        "error one_pattern: Name the chip to the programmer by its marking, and read its content. | info agree: –",
        "error repeated: Look up the size that belongs to the chip's marking. Where it is all of what was read, part of the content is missing: read again. | info agree: –",
        "error size_of_no_chip: Look up the size that belongs to the chip's marking, and read all of it. | info agree: –",
      ]
    `));
  it('of what a base records', () =>
    expect(toldOf(18, 24)).toMatchInlineSnapshot(`
      [
        "error size_of_another_chip: Look up the size that belongs to the chip's marking, and read all of it. Where the record is wrong, correct it. | info agree: – | info as_recorded: –",
        "error parameter_table: Read the content, with command 03h or 0Bh. An image that begins with these letters and was read so is content all the same. | info agree: – | warning unusual_size: Look up the size that belongs to the chip's marking, and read all of it.",
        "error image_of_another_drive: Find out which chip was read, or which of the records is wrong, before anything is written. | info agree: –",
        "error not_the_recorded_image: Compare with the image that was kept. Where the chip was written since, the kept one is the original. | info agree: –",
        "error single_read: Take the clip off and seat it anew between the two reads.",
        "info as_recorded: –",
      ]
    `));
  it("of the donor's chip", () =>
    expect(toldOf(24)).toMatchInlineSnapshot(`
      [
        "info arrived: – | info agree: –",
        "error donor_blank: Until the patient's image is on it, keep this board off the patient's drive. | info agree: –",
        "error donor_blank: Until the patient's image is on it, keep this board off the patient's drive. | info agree: –",
        "error donor_holds_another: Until the patient's image is on it, keep this board off the patient's drive. | info agree: –",
        "error donor_swapped: Find out which order is the chip's, write again and read back. Until the patient's image is on it, keep this board off the patient's drive. | info agree: –",
        "warning donor_larger: Whether the board takes a larger chip than its own has to be looked up. | info agree: –",
        "error donor_smaller: Read all of the chip. Where it is smaller than the image, move the patient's own chip. Until the patient's image is on it, keep this board off the patient's drive. | info agree: –",
        "error donor_differs: Keep what is on it now, write the image, and read back. Until the patient's image is on it, keep this board off the patient's drive. | info agree: –",
        "error donor_differs: Keep what is on it now, write the image, and read back. Until the patient's image is on it, keep this board off the patient's drive. | info agree: –",
      ]
    `));
});
