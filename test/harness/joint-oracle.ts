/**
 * An outside judge of outcomes and rules together: every recorded drive has a constant for each key, every outcome, rule and assumption a
 * Boolean that says it is taken for right. It is written straight from the data, and Z3 is asked.
 */
import { comparableKeys } from '../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { parseDaySpan } from '../../server/src/core/terms/calendar.ts';
import { foldText } from '../../server/src/core/text/fold.ts';
import type { PlainBase } from './arbitrary-base.ts';
import {
  boardClaims,
  choices,
  condition,
  days,
  factKeys,
  factValues,
  familyFacts,
  literal,
  numberOf,
  or,
  packages,
  partKeys,
  type Smt,
  sortOf,
  whole,
} from './rule-oracle.ts';

type PlainDrive = PlainBase['drive'][number];
type PlainOutcome = PlainBase['outcome'][number];
type Revision = NonNullable<PlainBase['board'][number]['revisions']>[number];

/** What an outcome makes of a rule's condition. */
export interface Demand {
  readonly rule: PlainBase['rule'][number];
  readonly outcome: PlainOutcome;
  readonly holds: boolean;
}

/** Something about one swap that may be asked about beside members. */
export interface Claim {
  readonly name: string;
  readonly when: ConditionData;
  readonly outcome: PlainOutcome;
  readonly holds: boolean;
}

/** Asks about members, named as in the core: for each list whether all of it can be right. */
export function canHold(
  smt: Smt,
  base: PlainBase,
  demands: readonly Demand[],
  asked: readonly (readonly string[])[],
  claims: readonly Claim[] = [],
): boolean[] {
  const names = [
    ...new Set([
      ...asked.flat(),
      ...claims.map(({ name }) => name),
      ...demands.flatMap(({ rule, outcome }) => [ruleMember(rule.id), outcomeMember(outcome.id)]),
    ]),
  ];
  const shares = new Map(base.drive.flatMap((drive) => sharesOf(drive, base)).map((share) => [share.name, share]));
  const guards = new Set([...names, ...shares.keys()]);
  const implications = [
    ...demands.map(({ rule, outcome, holds }) => {
      const term = ofSwap(condition(rule.when ?? {}), outcome);
      return `(assert (=> (and ${quoted(ruleMember(rule.id))} ${quoted(outcomeMember(outcome.id))}) ${holds ? term : `(not ${term})`}))`;
    }),
    ...claims.map(({ name, when, outcome, holds }) => {
      const term = ofSwap(condition(when), outcome);
      return `(assert (=> ${quoted(name)} ${holds ? term : `(not ${term})`}))`;
    }),
  ];
  const spoken = spokenKeys(implications);
  const statements = [
    ...factKeys.map((key) => `(declare-fun fact_${key} (Int) ${sortOf(key)})`),
    '(declare-fun maker (Int) Int)',
    ...[...guards].map((name) => `(declare-const ${quoted(name)} Bool)`),
    ...[...new Set(base.drive.map(({ family }) => numberOf(family ?? '')))].flatMap(factBounds),
    ...base.family.flatMap(familyFacts),
    ...base.drive.flatMap((drive) => driveConstants(drive, base, spoken)),
    ...[...shares.values()].map(({ constant, key }) => `(declare-const ${constant} ${sortOf(key)})`),
    ...base.drive.flatMap((drive) =>
      sharesOf(drive, base)
        .filter(({ key }) => spoken.has(key))
        .map(({ name, key, constant }) => `(assert (=> ${quoted(name)} (= ${own(drive.id, key)} ${constant})))`),
    ),
    ...base.outcome.flatMap((outcome) => outcomeConstants(outcome, base, spoken)),
    ...implications,
  ];
  return smt.run(
    statements,
    asked.map((some) => `(check-sat-assuming (${some.map(quoted).join(' ')}))`),
  );
}

/** The name of a rule among members. */
export function ruleMember(id: string): string {
  return `rule ${id}`;
}

/** The name of an outcome among members. */
export function outcomeMember(id: string): string {
  return `outcome ${id}`;
}

/** Whether the patient of an outcome is known to lie in a rule's scope. */
export function isKnownInScope(
  { applies_to: { families = [], makers = [], made } = {} }: PlainBase['rule'][number],
  outcome: PlainOutcome,
  base: PlainBase,
): boolean {
  const patient = base.drive.find(({ id }) => id === outcome.patient)!;
  const maker = base.family.find(({ id }) => id === patient.family)?.maker;
  if (families.length > 0 && !families.includes(patient.family ?? '')) return false;
  if (makers.length > 0 && !makers.includes(maker ?? '')) return false;
  if (!made) return true;
  const span = patient.made === undefined ? undefined : parseDaySpan(patient.made);
  const first = made.from === undefined ? -Infinity : parseDaySpan(made.from)!.first;
  const last = made.to === undefined ? Infinity : parseDaySpan(made.to)!.last;
  return span !== undefined && first <= span.first && span.last <= last;
}

function quoted(name: string): string {
  return `|${name}|`;
}

function own(drive: string, key: string): string {
  return `|${drive} ${key}|`;
}

/**
 * The keys that terms name, and those that everything about parts and families rests on. Nothing recorded of another key can bear on
 * an answer, as each key is bounded by itself; to put all of them would take twice as long.
 */
function spokenKeys(terms: readonly string[]): ReadonlySet<string> {
  const named = terms.flatMap((term) => [...term.matchAll(/ (\w+)\|/g)].map(([, key = '']) => key));
  return new Set(['family', 'board', 'rev', ...named]);
}

function factBounds(family: number): string[] {
  const bounded = Object.entries(factValues).map(
    ([key, values]) => `(assert (and (<= 0 (fact_${key} ${family})) (< (fact_${key} ${family}) ${values.length})))`,
  );
  return [...bounded, `(assert (and (> (fact_height_mm ${family}) 0) (>= (fact_rpm ${family}) 1)))`];
}

function isPart(key: string): key is (typeof partKeys)[number] {
  return (partKeys as readonly string[]).includes(key);
}

function recorded(drive: PlainDrive, key: string): string | number | undefined {
  const data: Readonly<Record<string, unknown>> = { ...drive };
  if (key === 'board') return drive.board?.id;
  const place: Readonly<Record<string, unknown>> = ['rev', 'sticker', 'controller', 'motor_driver'].includes(key)
    ? { ...drive.board }
    : data;
  return place[key] as string | number | undefined;
}

function driveConstants(drive: PlainDrive, base: PlainBase, spoken: ReadonlySet<string>): string[] {
  const bounds: Readonly<Record<string, (name: string) => string>> = {
    capacity_gb: (name) => `(> ${name} 0)`,
    heads: (name) => `(>= ${name} 1)`,
    contact_pads: (name) => `(>= ${name} 0)`,
    rom_package: (name) => `(and (<= 0 ${name}) (< ${name} ${packages.length}))`,
  };
  const isSpoken = (key: string): boolean => spoken.has(key);
  const keys = comparableKeys.filter(isSpoken).flatMap((key) => {
    const name = own(drive.id, key);
    const value = recorded(drive, key);
    return [
      `(declare-const ${name} ${sortOf(key)})`,
      ...(bounds[key] ? [`(assert ${bounds[key](name)})`] : []),
      ...(value === undefined ? [] : [`(assert (= ${name} ${literal(key, value)}))`]),
    ];
  });
  const parts = partKeys
    .filter(isSpoken)
    .flatMap((key) => (recorded(drive, key) === undefined ? inheritedParts(drive, key, base) : []));
  const made = own(drive.id, 'made');
  const span = drive.made === undefined ? undefined : parseDaySpan(drive.made);
  const [first, last] = span ? [span.first, span.last] : days;
  return [
    ...keys,
    ...parts,
    `(declare-const ${made} Int)`,
    `(assert (and (<= ${whole(first)} ${made}) (<= ${made} ${whole(last)})))`,
  ];
}

/** Whatever revision a drive has: where it is recorded with a part, the part is that. */
function inheritedParts(drive: PlainDrive, key: (typeof partKeys)[number], base: PlainBase): string[] {
  return base.board.flatMap((board) =>
    (board.revisions ?? []).flatMap((revision) => {
      const values = choices(key, revision);
      if (values.length === 0) return [];
      const isAt = `(and (= ${own(drive.id, 'board')} ${numberOf(board.id)}) (= ${own(drive.id, 'rev')} ${numberOf(revision.rev ?? '')}))`;
      return [`(assert (=> ${isAt} ${or(values.map((value) => `(= ${own(drive.id, key)} ${literal(key, value)})`))}))`];
    }),
  );
}

interface OracleShare {
  readonly name: string;
  readonly key: string;
  readonly constant: string;
}

/** The parts that a drive of a recorded revision may share with others, as nobody recorded them. */
function sharesOf(drive: PlainDrive, base: PlainBase): OracleShare[] {
  const board = base.board.find(({ id }) => id === drive.board?.id);
  const rev = drive.board?.rev === undefined ? undefined : foldText(drive.board.rev);
  const revision: Revision | undefined = (board?.revisions ?? []).find((one) => foldText(one.rev ?? '') === rev);
  if (!board || !revision) return [];
  return partKeys.flatMap((key) => {
    if (choices(key, revision).length > 0 || recorded(drive, key) !== undefined) return [];
    const share = `board/${board.id}/${rev} ${key}`;
    return [{ name: `assumption ${share}`, key, constant: `|${share}|` }];
  });
}

function outcomeConstants(outcome: PlainOutcome, base: PlainBase, spoken: ReadonlySet<string>): string[] {
  const hours = (['patient_before', 'donor_before'] as const).flatMap((column) => {
    const name = own(outcome.id, column);
    const row = (outcome.identity ?? []).find((one) => one.value === 'power_on_hours' && one[column] !== undefined);
    const value = row?.[column];
    return [
      `(declare-const ${name} Real)`,
      `(assert (>= ${name} 0))`,
      ...(value === undefined ? [] : [`(assert (= ${name} ${literal('power_on_hours', value)}))`]),
    ];
  });
  const moved = ['rom_chip', 'controller'].map((place) => `(declare-const ${own(outcome.id, place)} Bool)`);
  const claims = spoken.has('claims') ? base.board.flatMap(boardClaims).map((line) => ofSwap(line, outcome)) : [];
  return [
    ...hours,
    ...moved,
    `(declare-const ${own(outcome.id, 'claims')} Bool)`,
    ...claims,
    ...claimOfPair(outcome, base),
  ];
}

/** A claim is about two drives, so that two outcomes of the same two have one. */
function claimOfPair(outcome: PlainOutcome, base: PlainBase): string[] {
  return base.outcome
    .filter(({ patient, donor }) => patient === outcome.patient && donor === outcome.donor)
    .slice(0, 1)
    .flatMap(({ id }) => (id === outcome.id ? [] : [`(assert (= ${own(id, 'claims')} ${own(outcome.id, 'claims')}))`]));
}

const travelsBy: Readonly<Record<string, Readonly<Record<string, boolean | undefined>>>> = {
  rom_chip: { left: false, chip_moved: true, image_written: true, controller_moved: false, not_fitted: undefined },
  controller: { left: false, chip_moved: false, image_written: true, controller_moved: true, not_fitted: false },
};

/** That the adaptives came along. */
function travels(outcome: PlainOutcome, storedIn: string): string {
  const places = ['rom_chip', 'controller'].map((place, number) => {
    const isThere = `(= ${storedIn} ${number})`;
    return `(and ${isThere} ${travelsFrom(outcome, place)})`;
  });
  return or([`(= ${storedIn} 2)`, ...places]);
}

function travelsFrom({ id, rom, rom_from: from, patient }: PlainOutcome, place: string): string {
  if (from !== undefined) return String(from === patient);
  const truths = rom === undefined ? [undefined] : [rom].flat().map((action) => travelsBy[place]![action]);
  if (truths.includes(true)) return 'true';
  return truths.includes(undefined) ? own(id, place) : 'false';
}

/** A term about any swap, put to one: its sides are drives. */
function ofSwap(term: string, outcome: PlainOutcome): string {
  const drives = { patient: outcome.patient ?? '', donor: outcome.donor ?? '' };
  const withParts = term.replaceAll(
    /\((patient|donor)_(\w+) \1_board \1_rev\)/g,
    (whole, side: 'patient' | 'donor', key) => (isPart(key) ? own(drives[side], key) : whole),
  );
  const claimed = withParts.replaceAll('(claims donor_board donor_rev patient_rev)', own(outcome.id, 'claims'));
  const names = claimed.replaceAll(/\b(patient|donor)_(\w+)/g, (_, side: 'patient' | 'donor', key) =>
    key === 'power_on_hours' ? own(outcome.id, `${side}_before`) : own(drives[side], key),
  );
  return names.replaceAll(/\btravels\b/g, () => travels(outcome, `(fact_adaptives ${own(drives.patient, 'family')})`));
}
