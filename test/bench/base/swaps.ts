/**
 * What the bench tried and how far it came, decided by what the drives are in truth:
 * - a swap that lacks a factor stays below the stage it blocks, one that lacks none comes as far as `reads` or `verified`;
 * - whatever an `enough` law says to be enough never fails with every control in place;
 * - a failure between revisions that stand in for one another is never fully controlled, for it would speak against the claim.
 */
import { formatDate } from '../../../server/src/core/terms/calendar.ts';
import { at, type Random } from './random.ts';
import { blockedStage, hasEnoughLaw, type Rule } from './rules.ts';
import type { Drive, Factor, Family } from './things.ts';
import { type Clan, firstDay } from './world.ts';

export type Stage = 'nothing' | 'spins' | 'ready' | 'detected' | 'reads' | 'verified';

/** What keeps a failure from proving anything. */
type Gap = 'donor_untested' | 'patient_untested' | 'rom_unproved' | 'host_unfit';

/** One swap, in truth. */
export interface Swap {
  readonly id: string;
  readonly date: string;
  readonly patient: Drive;
  readonly donor: Drive;
  /** Undefined where nobody wrote it down. */
  readonly rom: string | readonly string[] | undefined;
  readonly isRomMoved: boolean;
  readonly romTravels: boolean;
  readonly reached: Stage;
  readonly result: 'works' | 'fails' | 'inconclusive';
  readonly gaps: ReadonlySet<Gap>;
  /** An earlier swap that shows the platters of this patient to be good. */
  readonly provedBy: string | undefined;
  readonly isSwappedBack: boolean;
  /** Hours on the patient's and the donor's counters at the start. */
  readonly hours: { readonly patient: number; readonly donor: number };
}

/** Days over which the swaps of a base are spread. */
const spanDays = 1900;

/** The swaps of a family, earliest first. The first of them breaks the rule that is to be broken, if there is one. */
export function makeSwaps(random: Random, clan: Clan, rules: readonly Rule[], count: number): readonly Swap[] {
  const proofs = new Map<string, string>();
  const hours = new Map(clan.drives.map((drive) => [drive.id, drive.powerOnHours]));
  const swaps: Swap[] = [];
  for (let position = 0; position < count; position++) {
    const own = random.fork(`swap ${position}`);
    const day = firstDay + Math.floor((position + 0.9 * own.next()) * (spanDays / count));
    const breaks = position === 0 && rules.some((rule) => rule.isBroken);
    const swap = makeSwap(own, { clan, rules, day, breaks, proofs, hours });
    swaps.push(swap);
    if (isWorking(swap.reached)) proofs.set(swap.patient.id, swap.id);
    for (const drive of [swap.patient, swap.donor]) hours.set(drive.id, (hours.get(drive.id) ?? 0) + 8);
  }
  return swaps;
}

interface Occasion {
  readonly clan: Clan;
  readonly rules: readonly Rule[];
  readonly day: number;
  readonly breaks: boolean;
  /** The last swap of each patient that worked. */
  readonly proofs: ReadonlyMap<string, string>;
  readonly hours: ReadonlyMap<string, number>;
}

function makeSwap(random: Random, occasion: Occasion): Swap {
  const { clan, rules, day, breaks, proofs, hours } = occasion;
  const [patient, donor] = breaks ? matchingPair(random, clan) : anyPair(random, clan);
  const { rom, isRomMoved, romTravels } = breaks
    ? { rom: 'left', isRomMoved: false, romTravels: false }
    : pickRom(random, clan.family);
  const lacking = breaks ? [] : lackingFactors(clan.family, patient, donor, romTravels);
  const mayFailProved = !hasEnoughLaw(rules);
  const provedBy = patient.isBoardDead ? proofs.get(patient.id) : undefined;
  const reached = breaks ? 'reads' : pickReached(random, lacking);
  const isFailure = !isWorking(reached);
  const isAwkward = isInterchange(patient, donor) && romTravels;
  const mustBeOpen = isFailure && (isAwkward || (lacking.length === 0 && !mayFailProved));
  const forced = forcedGaps(patient, donor, provedBy, rom);
  const isOpen = forced.size > 0 || mustBeOpen || random.chance(isFailure ? 0.1 : 0.3);
  const gaps = isOpen && forced.size === 0 ? new Set([pickGap(random, clan.family, isRomMoved)]) : forced;
  const date = formatDate(day);
  return {
    id: `${date}-${clan.family.id}-${shortId(patient)}-${shortId(donor)}`,
    date,
    patient,
    donor,
    rom,
    isRomMoved,
    romTravels,
    reached,
    result: isFailure ? (gaps.size > 0 ? 'inconclusive' : 'fails') : 'works',
    gaps,
    provedBy: gaps.has('patient_untested') ? undefined : provedBy,
    isSwappedBack: gaps.size === 0 && !patient.isBoardDead && random.chance(0.6),
    hours: { patient: hours.get(patient.id) ?? 0, donor: hours.get(donor.id) ?? 0 },
  };
}

/** Whether a stage counts as working in a base with the default settings. */
export function isWorking(stage: Stage): boolean {
  return stage === 'reads' || stage === 'verified';
}

function shortId(drive: Drive): string {
  return String(Number(drive.id.slice(2)));
}

/** Mostly a pair that looks promising, as a bench would choose it. */
function anyPair(random: Random, { family, drives }: Clan): readonly [Drive, Drive] {
  const patient = random.pick(drives.filter((drive) => !drive.isLooseBoard));
  const donors = donorsFor(patient, drives);
  const matching = donors.filter((donor) => lackingFactors(family, patient, donor, true).length === 0);
  if (matching.length > 0 && random.chance(0.6)) return [patient, random.pick(matching)];
  const alike = donors.filter((donor) => donor.board === patient.board);
  return [patient, random.pick(alike.length > 0 && random.chance(0.75) ? alike : donors)];
}

/** A pair that lacks nothing, whatever is done about the ROM. */
function matchingPair(random: Random, { family, drives }: Clan): readonly [Drive, Drive] {
  const pairs = drives.flatMap((patient) =>
    patient.isLooseBoard
      ? []
      : donorsFor(patient, drives)
          .filter((donor) => lackingFactors(family, patient, donor, true).length === 0)
          .map((donor) => [patient, donor] as const),
  );
  if (pairs.length === 0) throw new Error(`No two drives of ${family.id} match`);
  return random.pick(pairs);
}

/** Whether some two drives of a family match, so that a swap between them can break a rule about the ROM alone. */
export function hasMatchingPair({ family, drives }: Clan): boolean {
  return drives.some(
    (patient) =>
      !patient.isLooseBoard &&
      donorsFor(patient, drives).some((donor) => lackingFactors(family, patient, donor, true).length === 0),
  );
}

function donorsFor(patient: Drive, drives: readonly Drive[]): readonly Drive[] {
  return drives.filter((drive) => drive !== patient && !drive.isBoardDead);
}

type RomAction = 'left' | 'chip_moved' | 'image_written' | 'controller_moved' | 'not_fitted';

const carriesAdaptives: Readonly<Record<Exclude<Family['storedIn'], 'platters'>, ReadonlySet<string>>> = {
  rom_chip: new Set(['chip_moved', 'image_written']),
  controller: new Set(['controller_moved', 'image_written']),
};

function pickRom(random: Random, { storedIn }: Family): Pick<Swap, 'rom' | 'isRomMoved' | 'romTravels'> {
  const action = random.weighted<RomAction>(
    {
      rom_chip: [[5, 'chip_moved'] as const, [3, 'image_written'] as const, [2, 'left'] as const],
      controller: [[5, 'controller_moved'] as const, [1, 'image_written'] as const, [4, 'left'] as const],
      platters: [[8, 'left'] as const, [1, 'chip_moved'] as const, [1, 'not_fitted'] as const],
    }[storedIn],
  );
  const isWritten = action === 'chip_moved' && random.chance(0.1);
  const isRecorded = !random.chance(0.03);
  return {
    rom: isRecorded ? (isWritten ? ['chip_moved', 'image_written'] : action) : undefined,
    isRomMoved: action !== 'left' && action !== 'not_fitted',
    romTravels: storedIn === 'platters' || carriesAdaptives[storedIn].has(action),
  };
}

function lackingFactors(family: Family, patient: Drive, donor: Drive, romTravels: boolean): readonly Factor[] {
  const isMet: Readonly<Record<Factor, boolean>> = {
    rom: romTravels,
    revision: patient.board === donor.board && standsInFor(donor).has(patient.revision.rev),
    contact_pads: patient.revision.pads === donor.revision.pads,
    preamp: patient.preamp === donor.preamp,
    firmware: patient.firmware === donor.firmware,
    head_stack_code: patient.headStack === donor.headStack,
  };
  return [...family.factors].filter((factor) => !isMet[factor]);
}

/** The revisions that a drive's board works in place of, by the claims of its record, its own included. */
function standsInFor({ board, revision }: Drive): ReadonlySet<string> {
  const reached = new Set<string>();
  const waiting = [revision.rev];
  for (let rev = waiting.pop(); rev !== undefined; rev = waiting.pop()) {
    reached.add(rev);
    waiting.push(...(board.revisions.find((other) => other.rev === rev)?.dropInFor ?? []));
  }
  return reached;
}

function isInterchange(patient: Drive, donor: Drive): boolean {
  return (
    patient.board === donor.board && patient.revision !== donor.revision && standsInFor(donor).has(patient.revision.rev)
  );
}

const below = { ready: 'spins', detected: 'ready', reads: 'detected' } as const;
const order: readonly Stage[] = ['nothing', 'spins', 'ready', 'detected', 'reads', 'verified'];

function pickReached(random: Random, lacking: readonly Factor[]): Stage {
  if (lacking.length === 0) return random.chance(0.05) ? 'detected' : random.chance(0.55) ? 'verified' : 'reads';
  const limits = lacking.map((factor) => order.indexOf(below[blockedStage[factor]]));
  const limit = Math.min(...limits);
  return at(order, limit === 1 && random.chance(0.1) ? 0 : limit);
}

/** What cannot be shown for this pair, whatever is tried. */
function forcedGaps(patient: Drive, donor: Drive, provedBy: string | undefined, rom: Swap['rom']): ReadonlySet<Gap> {
  const gaps = new Set<Gap>();
  if (donor.isLooseBoard) gaps.add('donor_untested');
  if (patient.isBoardDead && provedBy === undefined) gaps.add('patient_untested');
  if (rom === undefined) gaps.add('rom_unproved');
  return gaps;
}

function pickGap(random: Random, family: Family, isRomMoved: boolean): Gap {
  const gaps: Gap[] = ['donor_untested', 'patient_untested'];
  if (isRomMoved) gaps.push('rom_unproved');
  if (family.hostNeeds.length > 0) gaps.push('host_unfit');
  return random.pick(gaps);
}
