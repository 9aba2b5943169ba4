/**
 * An outside judge of rules: it puts a base and its rules as SMT-LIB text, straight from the data and by another road than the
 * core takes (functions of boards and families instead of slots with side conditions), and asks Z3.
 */
import { init } from 'z3-solver';
import { comparableKeys } from '../../schemas/gen/key-table.ts';
import type { BoardData, ConditionData } from '../../schemas/gen/records.ts';
import { parseDate, parseDaySpan } from '../../server/src/core/terms/calendar.ts';
import type { PlainBase } from './arbitrary-base.ts';

type PlainRule = PlainBase['rule'][number];
type Scalar = string | number | boolean;
type Wanted = Scalar | readonly Scalar[] | { readonly from?: string | number; readonly to?: string | number };

const realKeys: ReadonlySet<string> = new Set(['capacity_gb', 'power_on_hours', 'height_mm']);
const wholeKeys: ReadonlySet<string> = new Set(['heads', 'contact_pads', 'rpm', 'made']);
export const partKeys = ['controller', 'motor_driver', 'contact_pads', 'rom_package'] as const;
export const packages = ['soic8_150mil', 'soic8_208mil', 'soic16', 'wson8_6x5', 'wson8_8x6', 'plcc32', 'tsop', 'nand'];
export const factValues: Readonly<Record<string, readonly string[]>> = {
  interface: ['pata', 'sata', 'sas', 'scsi', 'fc', 'usb'],
  form_factor: ['1.8in', '2.5in', '3.5in'],
  recording: ['cmr', 'smr'],
  encryption: ['none', 'optional', 'always'],
  gas: ['air', 'helium'],
  adaptives: ['rom_chip', 'controller', 'platters'],
};
export const factKeys = [...Object.keys(factValues), 'height_mm', 'rpm'];
const sides = ['patient', 'donor'] as const;

/** What can be asked of the rules of one base. Each answer says whether a swap exists. */
export interface RuleQuestions {
  /** A swap in the rule's scope. */
  readonly inScope: (rule: PlainRule) => string;
  /** A swap in scope that meets the condition. */
  readonly meets: (rule: PlainRule) => string;
  /** A swap in scope that does not. */
  readonly fails: (rule: PlainRule) => string;
}

/** Asks Z3 about swaps; to be closed, or its threads keep the process alive. */
export interface Oracle {
  /** For each demand, an SMT-LIB term, whether a swap there could be meets it. */
  readonly ask: (base: PlainBase, demands: readonly string[]) => boolean[];
  readonly close: () => void;
}

/** The terms of a base's rules. */
export const questions: RuleQuestions = {
  inScope: (rule) => scope(rule),
  meets: (rule) => and([scope(rule), condition(rule.when ?? {})]),
  fails: (rule) => and([scope(rule), `(not ${condition(rule.when ?? {})})`]),
};

interface Module {
  readonly ccall: (name: string, gives: 'string', takes: readonly string[], values: readonly unknown[]) => string;
}

/** A new oracle. */
export async function openOracle(): Promise<Oracle> {
  const smt = await openSmt();
  return {
    ask: (base, demands) =>
      smt.run(
        [...declarations, ...facts(base)],
        demands.map((demand) => `(push)(assert ${demand})(check-sat)(pop)`),
      ),
    close: smt.close,
  };
}

/** Z3 as such. */
export interface Smt {
  /** Reads statements, then for each question, which ends in a check, whether what it asks can be. */
  readonly run: (statements: readonly string[], questions: readonly string[]) => boolean[];
  readonly close: () => void;
}

/** Starts Z3; to be closed, or its threads keep the process alive. */
export async function openSmt(): Promise<Smt> {
  const { Z3, em } = await init();
  // The wrapper's own call hands its text to a thread and frees it at once; a call that waits does not.
  const evaluate = (context: unknown, text: string): string =>
    (em as Module).ccall('Z3_eval_smtlib2_string', 'string', ['number', 'string'], [context, text]);
  // One for all: to make another takes ten times as long as most questions do.
  const context = Z3.mk_context(Z3.mk_config());
  return {
    run: (statements, asked) => {
      const complaint = evaluate(context, ['(push)', ...statements].join('\n'));
      if (complaint !== '') throw new Error(`Z3 says ${complaint}`);
      const lines = asked.map((question) => evaluate(context, question).trim());
      evaluate(context, '(pop)');
      const [strange] = lines.filter((line) => line !== 'sat' && line !== 'unsat');
      if (strange !== undefined) throw new Error(`Z3 says ${strange}`);
      return lines.map((line) => line === 'sat');
    },
    close: () => em.PThread.terminateAllThreads(),
  };
}

function and(terms: readonly string[]): string {
  return `(and true ${terms.join(' ')})`;
}

export function or(terms: readonly string[]): string {
  return `(or false ${terms.join(' ')})`;
}

/** Texts as numbers: equal ones, case and spaces aside, get the same. Below 100 are the choices of fixed lists. */
const numbers = new Map<string, number>();

export function numberOf(text: string): number {
  const folded = text.trim().split(/\s+/).join(' ').toLowerCase();
  const number = numbers.get(folded) ?? 100 + numbers.size;
  numbers.set(folded, number);
  return number;
}

export function sortOf(key: string): string {
  return realKeys.has(key) ? 'Real' : 'Int';
}

function side(name: (typeof sides)[number], key: string): string {
  return (partKeys as readonly string[]).includes(key)
    ? `(${name}_${key} ${name}_board ${name}_rev)`
    : `${name}_${key}`;
}

export const days = [parseDate('0001-01-01'), parseDate('9999-12-31')] as const;

const declarations: readonly string[] = [
  ...sides.flatMap((name) =>
    [...comparableKeys, 'made', 'power_on_hours'].flatMap((key) => {
      if ((partKeys as readonly string[]).includes(key)) return [];
      const constant = `(declare-const ${name}_${key} ${sortOf(key)})`;
      if (key === 'capacity_gb') return [constant, `(assert (> ${name}_${key} 0))`];
      if (key === 'heads') return [constant, `(assert (>= ${name}_${key} 1))`];
      if (key === 'power_on_hours') return [constant, `(assert (>= ${name}_${key} 0))`];
      if (key === 'made')
        return [constant, `(assert (and (<= ${whole(days[0])} ${name}_made) (<= ${name}_made ${whole(days[1])})))`];
      return [constant];
    }),
  ),
  // What boards of a revision share, and what each board has for itself where the revision lists alternatives.
  ...partKeys.flatMap((key) => [
    `(declare-fun shared_${key} (Int Int) Int)`,
    ...sides.map((name) => `(declare-const ${name}_own_${key} Int)`),
  ]),
  ...factKeys.map((key) => `(declare-fun fact_${key} (Int) ${sortOf(key)})`),
  '(declare-fun maker (Int) Int)',
  '(declare-fun claims (Int Int Int) Bool)',
  '(declare-const travels Bool)',
  ...Object.entries(factValues).map(
    ([key, values]) => `(assert (and (<= 0 ${fact(key)}) (< ${fact(key)} ${values.length})))`,
  ),
  `(assert (and (> ${fact('height_mm')} 0) (>= ${fact('rpm')} 1)))`,
  `(assert (=> (= ${fact('adaptives')} 2) travels))`,
];

function fact(key: string): string {
  return `(fact_${key} patient_family)`;
}

/** What the base records of families and revisions. */
function facts(base: PlainBase): string[] {
  return [
    ...base.family.flatMap(familyFacts),
    ...partKeys.flatMap((key) => partFacts(key, base)),
    ...base.board.flatMap(boardClaims),
  ];
}

export function familyFacts(family: PlainBase['family'][number]): string[] {
  const id = numberOf(family.id);
  const values: Readonly<Record<string, unknown>> = { ...family, adaptives: family.adaptives?.stored_in };
  return [
    `(assert (= (maker ${id}) ${numberOf(family.maker ?? '')}))`,
    ...factKeys.flatMap((key) => {
      const value = values[key];
      return value === undefined ? [] : [`(assert (= (fact_${key} ${id}) ${literal(key, value as Scalar)}))`];
    }),
  ];
}

type Revision = NonNullable<BoardData['revisions']>[number];

export function choices(key: (typeof partKeys)[number], revision: Revision): readonly Scalar[] {
  if (key !== 'rom_package') return [revision[key] ?? []].flat();
  const roms = revision.roms ?? [];
  const holding = roms.filter(({ holds }) => holds?.includes('adaptives'));
  const meant = holding.length > 0 ? holding : roms;
  const [only] = meant;
  return meant.length === 1 && only?.package !== undefined && only.package !== 'other' ? [only.package] : [];
}

function partFacts(key: (typeof partKeys)[number], base: PlainBase): string[] {
  const lists: string[] = [];
  const asserted: string[] = [];
  for (const board of base.board) {
    for (const revision of board.revisions ?? []) {
      const values = [...new Set(choices(key, revision).map((value) => literal(key, value)))];
      const [id, rev] = [numberOf(board.id), numberOf(revision.rev ?? '')];
      if (values.length === 1) asserted.push(`(assert (= (shared_${key} ${id} ${rev}) ${values[0]}))`);
      if (values.length < 2) continue;
      lists.push(`(and (= board ${id}) (= rev ${rev}))`);
      for (const name of sides) {
        const own = or(values.map((value) => `(= ${name}_own_${key} ${value})`));
        asserted.push(`(assert (=> (and (= ${name}_board ${id}) (= ${name}_rev ${rev})) ${own}))`);
      }
    }
  }
  const functions = sides.map(
    (name) =>
      `(define-fun ${name}_${key} ((board Int) (rev Int)) Int (ite ${or(lists)} ${name}_own_${key} (shared_${key} board rev)))`,
  );
  const bounds = sides.flatMap((name) => {
    if (key === 'contact_pads') return [`(assert (<= 0 ${side(name, key)}))`];
    return key === 'rom_package'
      ? [`(assert (and (<= 0 ${side(name, key)}) (< ${side(name, key)} ${packages.length})))`]
      : [];
  });
  return [...functions, ...asserted, ...bounds];
}

/** A recorded revision works in place of those its board claims, step by step, and of no other; a retracted board claims nothing. */
export function boardClaims(board: PlainBase['board'][number]): string[] {
  const id = numberOf(board.id);
  const claimed = '(claims donor_board donor_rev patient_rev)';
  if (board.retracted) return [`(assert (=> (= donor_board ${id}) (not ${claimed})))`];
  const claimsOf = new Map(
    (board.revisions ?? []).map(({ rev = '', drop_in_for }) => [numberOf(rev), (drop_in_for ?? []).map(numberOf)]),
  );
  return [...claimsOf.keys()].map((rev) => {
    const reached = new Set<number>();
    const visit = (next: number): void => {
      if (reached.has(next)) return;
      reached.add(next);
      claimsOf.get(next)?.forEach(visit);
    };
    claimsOf.get(rev)?.forEach(visit);
    const listed = or([...reached].map((other) => `(= patient_rev ${other})`));
    return `(assert (=> (and (= donor_board ${id}) (= donor_rev ${rev})) (= ${claimed} ${listed})))`;
  });
}

function scope({ applies_to: { families = [], makers = [], made } = {} }: PlainRule): string {
  return and([
    ...(families.length > 0 ? [or(families.map((id) => `(= patient_family ${numberOf(id)})`))] : []),
    ...(makers.length > 0 ? [or(makers.map((id) => `(= (maker patient_family) ${numberOf(id)})`))] : []),
    ...(made ? [asked('made', 'patient_made', made)] : []),
  ]);
}

const dropIn = `(and (= patient_board donor_board) (or (= patient_rev donor_rev) (claims donor_board donor_rev patient_rev)))`;

function same(key: string): string {
  const equal = `(= ${side('patient', key)} ${side('donor', key)})`;
  return key === 'rev' ? `(and ${equal} (= patient_board donor_board))` : equal;
}

export function condition(when: ConditionData): string {
  const inner = (list: readonly ConditionData[] | undefined): string[] => (list ?? []).map(condition);
  return and([
    ...(when.same ?? []).map(same),
    ...(when.different ?? []).map((key) => `(not ${same(key)})`),
    ...(when.rom_travels === undefined ? [] : [when.rom_travels ? 'travels' : '(not travels)']),
    ...(when.revision === 'same' ? [same('rev')] : []),
    ...(when.revision === 'drop_in' ? [dropIn] : []),
    ...(when.revision === 'other' ? [`(and (= patient_board donor_board) (not ${dropIn}))`] : []),
    ...sides.flatMap((name) =>
      Object.entries(when[name] ?? {}).map(([key, wanted]) =>
        key === 'rev'
          ? revisionAsked(name, [wanted].flat() as string[])
          : asked(key, side(name, key), wanted as Wanted),
      ),
    ),
    ...Object.entries(when.family_is ?? {}).map(([key, wanted]) => asked(key, fact(key), wanted as Wanted)),
    ...(when.made_within_weeks === undefined ? [] : [apart(7 * when.made_within_weeks)]),
    ...inner(when.all),
    ...(when.any ? [or(inner(when.any))] : []),
    ...(when.none ? [`(not ${or(inner(when.none))})`] : []),
  ]);
}

function apart(most: number): string {
  return `(and (<= (- patient_made donor_made) ${most}) (<= (- donor_made patient_made) ${most}))`;
}

function revisionAsked(name: (typeof sides)[number], wanted: readonly string[]): string {
  return or(
    wanted.map((text) => {
      const [board = '', rev = ''] = text.split('/');
      return `(and (= ${name}_board ${numberOf(board)}) (= ${name}_rev ${numberOf(rev)}))`;
    }),
  );
}

function asked(key: string, term: string, wanted: Wanted): string {
  if (Array.isArray(wanted)) return or(wanted.map((one) => asked(key, term, one as Scalar)));
  if (typeof wanted === 'object') {
    const { from, to } = wanted as { from?: string | number; to?: string | number };
    const first = key === 'made' && from !== undefined ? parseDaySpan(from)?.first : from;
    const last = key === 'made' && to !== undefined ? parseDaySpan(to)?.last : to;
    return and([
      ...(first === undefined ? [] : [`(<= ${literal(key, first)} ${term})`]),
      ...(last === undefined ? [] : [`(<= ${term} ${literal(key, last)})`]),
    ]);
  }
  if (key === 'made') return asked(key, term, { from: wanted as string, to: wanted as string });
  return `(= ${term} ${literal(key, wanted as Scalar)})`;
}

export function literal(key: string, value: Scalar): string {
  if (realKeys.has(key)) return Number.isInteger(value) ? `${value}.0` : String(value);
  if (wholeKeys.has(key)) return whole(Number(value));
  if (key === 'rom_package') return String(packages.indexOf(String(value)));
  const choice = factValues[key]?.indexOf(String(value));
  return String(choice ?? numberOf(String(value)));
}

export function whole(number: number | undefined): string {
  if (number === undefined) throw new Error('a day that the calendar does not know');
  return number < 0 ? `(- ${-number})` : String(number);
}
