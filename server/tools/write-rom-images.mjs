// Writes the ROM images of the demo base: the chips of two drives of one lot, one of them read twice and once badly, and what is on the
// other's chip after the first one's image was written to it. The drives are invented, so there is nothing to read. No serial number
// stands in them, as this base masks serials. `--check` writes nothing and fails where an image is missing or out of date.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

const folder = 'knowledge/roms';
const chipBytes = 524_288;
const blockBytes = 4096;

/** Blocks of each part of a chip; the rest is erased. */
const parts = { code: 0, adaptives: 64, calibration: 72, trailer: 127 };

const guineaPig = { id: 'd-0311', wwn: '50e5a17004c1d93e', seed: 311, defects: 0 };
const twin = { id: 'd-0312', wwn: '50e5a17004c2a07b', seed: 312, defects: 3 };

const check = process.argv.includes('--check');
let stale = 0;
for (const [name, bytes] of Object.entries(images())) {
  const path = `${folder}/${name}.bin`;
  if (check && !bytes.equals(readOr(path))) {
    console.error(`${path} is out of date: run node server/tools/write-rom-images.mjs`);
    stale++;
  } else if (!check) {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, bytes);
  }
}
process.exitCode = stale > 0 ? 1 : 0;

function readOr(path) {
  try {
    return readFileSync(path);
  } catch {
    return Buffer.alloc(0);
  }
}

function images() {
  const patient = imageOf(twin);
  return {
    'd-0312-read-1': patient,
    'd-0312-read-2': patient,
    'd-0312-clip-slipped': clipSlipped(patient),
    'd-0311-before': imageOf(guineaPig),
    'd-0311-now': patient,
  };
}

function imageOf(drive) {
  const chip = Buffer.alloc(chipBytes, 0xff);
  // Both carry release 2.31c, so the code is the same.
  writeCode(chip.subarray(parts.code * blockBytes, 40 * blockBytes));
  chip.write('TNS2 2.31c  U12  COPY 2011 WRANHOLM\0', 0x40, 'latin1');
  const own = chip.subarray(parts.adaptives * blockBytes);
  writeHead(own, drive);
  writeTables(own.subarray(0x200, 6 * blockBytes), chance(drive.seed));
  writeDefects(chip.subarray(parts.calibration * blockBytes), drive);
  writeTrailer(chip, drive);
  return chip;
}

/** As if a few hundred instructions came back in routines that resemble each other. */
function writeCode(code) {
  const random = chance(231);
  // Opcodes are few, operands many.
  const instructions = Array.from({ length: 320 }, () => (Math.floor(random() * 2 ** 32) & 0xe33f1fff) >>> 0);
  const routines = Array.from({ length: 90 }, () =>
    Array.from({ length: 24 + Math.floor(random() * 60) }, () => instructions[Math.floor(random() ** 2 * 320)]),
  );
  let at = 0x100;
  code.fill(0, 0, at);
  while (at + 4 <= code.length) {
    const routine = routines[Math.floor(random() * routines.length)];
    for (const word of routine) {
      if (at + 4 > code.length) break;
      // Now and then an operand of its own.
      code.writeUInt32LE(random() < 0.12 ? (word ^ Math.floor(random() * 256)) >>> 0 : word >>> 0, at);
      at += 4;
    }
  }
}

function writeHead(own, { wwn }) {
  own.fill(0, 0, 0x200);
  own.write('ADPT', 0, 'latin1');
  own.writeUInt16BE(0x0231, 4);
  own.write(wwn, 8, 'hex');
  own.write('TNS2-1000', 0x10, 'latin1');
  own.write('0123', 0x20, 'latin1');
  own.write('VJX52A', 0x28, 'latin1');
}

/** Four heads, and for each a curve over the zones for every setting. */
function writeTables(tables, random) {
  const settings = tables.length / 2 / 4 / 32;
  let at = 0;
  for (let head = 0; head < 4; head++) {
    for (let setting = 0; setting < Math.floor(settings); setting++) {
      const start = 300 + Math.floor(random() * 700);
      const slope = Math.floor(random() * 9) - 4;
      for (let zone = 0; zone < 32; zone++) {
        tables.writeUInt16BE(start + slope * zone + Math.floor(random() * 3), at);
        at += 2;
      }
    }
  }
}

function writeDefects(list, { defects, seed }) {
  const random = chance(seed + 1000);
  list.fill(0, 0, blockBytes);
  list.write('DEFL', 0, 'latin1');
  list.writeUInt16BE(defects, 4);
  for (let entry = 0; entry < defects; entry++) list.writeUInt32BE(Math.floor(random() * 1_953_525_168), 8 + entry * 4);
}

function writeTrailer(chip, { wwn }) {
  const trailer = chip.subarray(parts.trailer * blockBytes);
  trailer.fill(0, 0, 0x40);
  trailer.write(`WWN ${wwn.toUpperCase()}`, 0, 'latin1');
  const sum = chip.subarray(0, parts.trailer * blockBytes).reduce((total, byte) => (total + byte) >>> 0, 0);
  trailer.writeUInt32BE(sum, 0x30);
}

/** A read during which the clip lost contact once, and one line was weak for two blocks. */
function clipSlipped(image) {
  const read = Buffer.from(image);
  const random = chance(9);
  for (const block of [12, 13]) {
    for (let hit = 0; hit < 40; hit++) {
      const at = block * blockBytes + Math.floor(random() * blockBytes);
      read[at] |= 0x04;
    }
  }
  read.fill(0xff, 66 * blockBytes, 67 * blockBytes);
  return read;
}

/** Numbers from 0 to 1 that are the same each time: mulberry32. */
function chance(seed) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
