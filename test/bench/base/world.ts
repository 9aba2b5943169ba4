/**
 * The things a generated base is about, as they are in truth. Records show a part of that truth and nothing else, so a base cannot
 * contradict itself.
 */

import { dateOf, pickMade } from './manufacture.ts';
import { familyName, makerName, markingDigits, markingLetters, modelPrefix, toId } from './names.ts';
import { at, type Random } from './random.ts';
import { type Counts, drivesPerFamily, groupOf, membersOf } from './sizes.ts';
import type { Board, Drive, Factor, Family, Maker, Revision } from './things.ts';

/** A family with all that hangs on it. */
export interface Clan {
  readonly family: Family;
  readonly boards: readonly Board[];
  readonly drives: readonly Drive[];
}

/** First day on which the bench worked; every drive was made before it. */
export const firstDay = dateOf(2020, 1, 6);

/** The makers of a base. */
export function makeMakers(random: Random, counts: Counts): readonly Maker[] {
  return Array.from({ length: counts.makers }, (_, position) => {
    const own = random.fork(`maker ${position}`);
    const name = makerName(position);
    return {
      id: toId(at(name.split(' '), 0)),
      name,
      // The second digit has the bit of local administration set, so that no company can own the prefix.
      oui: `${at([...'02468ACE'], position % 8)}${own.pick([...'26AE'])}${hex(position + 16, 2)}${hex(own.integer(0, 255), 2)}`,
      scheme: own.weighted([
        [4, 'iso_week'],
        [3, 'iso_day'],
        [2, 'calendar'],
        [1, 'fiscal_week'],
      ]),
    };
  });
}

/** The family at a position, with its boards and drives. */
export function makeClan(random: Random, counts: Counts, makers: readonly Maker[], position: number): Clan {
  const own = random.fork(`family ${position}`);
  const family = makeFamily(own, at(makers, groupOf(position, counts.families, counts.makers)), position);
  const boards = membersOf(position, counts.boards, counts.families).map((board) =>
    makeBoard(random.fork(`board ${board}`), family, board),
  );
  const drives = Array.from({ length: drivesPerFamily }, (_, member) =>
    makeDrive(own.fork(`drive ${member}`), family, boards, position * drivesPerFamily + member),
  );
  return { family, boards, drives };
}

function makeFamily(random: Random, maker: Maker, position: number): Family {
  const name = familyName(position);
  const formFactor = random.weighted([[3, '3.5in'] as const, [2, '2.5in'] as const]);
  const interfaceName = random.weighted([
    [7, 'sata'] as const,
    [1, 'pata'] as const,
    [1, 'sas'] as const,
    [formFactor === '2.5in' ? 1 : 0, 'usb'] as const,
  ]);
  const from = random.integer(2004, 2013);
  const storedIn = random.weighted([[6, 'rom_chip'] as const, [1, 'controller'] as const, [3, 'platters'] as const]);
  const smallest = random.pick(interfaceName === 'pata' ? [80, 160] : [250, 320, 500]);
  return {
    id: toId(name),
    name,
    maker,
    prefix: modelPrefix(position),
    interface: interfaceName,
    formFactor,
    rpm: formFactor === '2.5in' ? 5400 : random.pick([5400, 5900, 7200]),
    recording: interfaceName !== 'pata' && random.chance(0.15) ? 'smr' : 'cmr',
    capacities: [smallest, smallest * 2, smallest * 4],
    heads: { min: 1, max: random.pick([4, 6, 8]) },
    made: { from, to: from + random.integer(2, 4) },
    encryption: random.weighted([[8, 'none'] as const, [1, 'optional'] as const, [1, 'always'] as const]),
    storedIn,
    isStoredInRecorded: random.chance(0.95),
    hostNeeds: hostNeedsOf(random, interfaceName),
    firmwareFollows: random.pick(['platters', 'platters', 'board']),
    factors: factorsOf(random, storedIn),
    firmwares: variants(random, 3, () => `${random.letters(markingLetters, 2)}${random.letters(markingDigits, 2)}`),
    preamps: variants(random, 2, () => `PA${random.letters(markingDigits, 3)}`),
    headStacks: variants(random, 2, () => `H${random.letters(markingLetters, 1)}${random.letters(markingDigits, 2)}`),
    sites: variants(random, 2, () => random.letters(markingLetters, 2)),
    country: random.pick(['Made in Norway', 'Made in Thailand', 'Product of Ireland', 'Made in Japan']),
  };
}

function hostNeedsOf(random: Random, interfaceName: Family['interface']): readonly string[] {
  if (!random.chance(0.3)) return [];
  if (interfaceName === 'sas') return ['spin_up_command'];
  if (interfaceName === 'sata') return [random.pick(['pin3_unpowered', 'onboard_port', 'spin_up_command'])];
  return interfaceName === 'pata' ? ['jumper'] : [];
}

/** Board and pads matter everywhere, the ROM wherever it holds adaptives, and in most families one thing more. */
function factorsOf(random: Random, storedIn: Family['storedIn']): ReadonlySet<Factor> {
  const more = random.weighted<Factor | undefined>([
    [4, undefined],
    [3, 'preamp'],
    [2, 'firmware'],
    [1, 'head_stack_code'],
  ]);
  const rom: readonly Factor[] = storedIn === 'platters' ? [] : ['rom'];
  return new Set<Factor>([...rom, 'revision', 'contact_pads', ...(more === undefined ? [] : [more])]);
}

function makeBoard(random: Random, family: Family, position: number): Board {
  const digits = String(10_007 + position * 13);
  const partNumber = random.chance(0.3)
    ? digits.padStart(7, '0')
    : `${family.maker.name.slice(0, 2).toUpperCase()}${digits}`;
  const controllers = variants(
    random,
    2,
    () => `${random.letters(markingLetters, 2)}${random.letters(markingDigits, 4)}-B2`,
  );
  const drivers = variants(random, 2, () => `${random.letters(markingLetters, 3)}${random.letters(markingDigits, 4)}`);
  const names = random
    .pick([
      ['A', 'B', 'C'],
      ['02', '03', '04'],
      ['A1', 'A2', 'B1'],
    ])
    .slice(0, random.integer(2, 3));
  const pads = 2 * random.integer(8, 12);
  const ramMb = random.pick([8, 16, 32, 64]);
  const hasOddLast = random.chance(0.2);
  const revisions = names.map((rev, index): Revision => {
    const isOdd = hasOddLast && index === names.length - 1;
    return {
      rev,
      controller: at(controllers, isOdd ? 1 : 0),
      isControllerRecorded: random.chance(0.9),
      motorDrivers: random.chance(0.25) ? drivers : [at(drivers, 0)],
      ramMb,
      pads: isOdd ? pads + 2 : pads,
      arePadsRecorded: random.chance(0.85),
      dropInFor: index > 0 && !isOdd && random.chance(0.65) ? [at(names, index - 1)] : [],
    };
  });
  return {
    id: `${family.maker.id}-${partNumber.toLowerCase()}`,
    partNumber,
    family,
    romPackage: random.pick(['soic8_150mil', 'soic8_208mil', 'wson8_6x5']),
    romBytes: random.pick([262_144, 524_288, 1_048_576]),
    romVolts: random.pick([1.8, 3.3, 3.3]),
    revisions,
  };
}

function makeDrive(random: Random, family: Family, boards: readonly Board[], position: number): Drive {
  const isLooseBoard = position % drivesPerFamily === drivesPerFamily - 1 && random.chance(0.25);
  const board = at(boards, random.chance(0.7) ? 0 : random.integer(0, boards.length - 1));
  const revision = random.pick(board.revisions);
  const capacityGb = random.pick(family.capacities);
  const model = `${family.prefix}${capacityGb}${random.pick(['A', 'S', 'X'])}`;
  const made = pickMade(random, family.maker, family.made);
  return {
    id: `d-${String(position + 1).padStart(5, '0')}`,
    family,
    isLooseBoard,
    model,
    partNumber: `${model}-${random.letters(markingDigits, 2)}`,
    // The first two characters differ from drive to drive within a family.
    serialTail: `${at([...markingLetters], position % 8)}${random.letters(markingDigits + markingLetters, 3)}`,
    wwn: `5${family.maker.oui}${hex(position + 1, 5)}${hex(random.integer(0, 65_535), 4)}`.toLowerCase(),
    firmware: random.pick(family.firmwares),
    made,
    site: random.pick(family.sites),
    capacityGb,
    lbaCount: lbaCountOf(capacityGb),
    heads: random.integer(family.heads.min, family.heads.max),
    headStack: random.pick(family.headStacks),
    preamp: random.pick(family.preamps),
    isPreampRecorded: random.chance(0.2),
    board,
    revision,
    motorDriver: random.pick(revision.motorDrivers),
    powerOnHours: Math.floor((firstDay - made.lastDay) * 24 * (0.05 + 0.5 * random.next())),
    data: random.pick(['wanted', 'test', 'test', 'none']),
    // Never all of a family: somebody has to give a board.
    isBoardDead: position % 2 === 0 && random.chance(0.15),
  };
}

/** Sectors of 512 bytes on a drive of so many GB. Source: IDEMA LBA1-03, which holds from 50 GB up. */
function lbaCountOf(capacityGb: number): number {
  return 97_696_368 + 1_953_504 * (capacityGb - 50);
}

function variants(random: Random, count: number, make: () => string): readonly string[] {
  const found = new Set<string>();
  while (found.size < random.integer(2, count)) found.add(make());
  return [...found];
}

function hex(value: number, digits: number): string {
  return value.toString(16).toUpperCase().padStart(digits, '0');
}
