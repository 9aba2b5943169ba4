import { snapshotOf, type Texts } from '../../harness/snapshot-of.ts';
import type { Random } from '../base/random.ts';

/** What a shelf is filled with. */
export interface ShelfSize {
  readonly spares: number;
  readonly families: number;
  /** Outcomes of each family. */
  readonly outcomes: number;
}

const patterns = {
  rev: ['A', 'B', 'C', 'D'],
  firmware: Array.from({ length: 40 }, (_, n) => `FW${n}`),
  site: ['North Quay', 'South Quay', 'Mill', 'Ferry'],
  model: ['TRN-500', 'TRN-1000', 'TRN-2000'],
  heads: ['2', '4', '6'],
} as const;

/** A base with one patient, so many spare drives of its family and a few others, rules of every claim, and outcomes to count. */
export function shelf(random: Random, size: ShelfSize): ReturnType<typeof snapshotOf> {
  const files: Record<string, string> = {
    'makers.yaml': 'kind: maker\nid: wren\nname: Wren\n---\nkind: maker\nid: rook\nname: Rook\n',
    'rules.yaml': rules.join('---\n'),
    'patient.yaml': drive(random, 'patient', 'family-0', 'B'),
  };
  for (let n = 0; n < size.families; n++) Object.assign(files, family(random, n, size.outcomes));
  for (let n = 0; n < size.spares; n++) {
    const kin = random.integer(0, 9) < 9 ? 0 : random.integer(0, size.families - 1);
    files[`spares/${n}.yaml`] = drive(random, `spare-${n}`, `family-${kin}`, random.pick(patterns.rev));
  }
  return snapshotOf(files satisfies Texts);
}

function family(random: Random, n: number, outcomes: number): Record<string, string> {
  const id = `family-${n}`;
  const revisions = patterns.rev.map(
    (rev, position) =>
      `  - {rev: ${rev}, controller: KR${position % 2}, motor_driver: MD${position % 3}, contact_pads: ${18 + 2 * (position % 2)}, drop_in_for: [${position > 0 ? patterns.rev[position - 1] : ''}]}\n`,
  );
  const tried = Array.from({ length: outcomes }, (_, o) => {
    const [a, b] = [`${id}-p${o}`, `${id}-q${o}`];
    const works = random.integer(0, 2) > 0;
    return [
      drive(random, a, id, random.pick(patterns.rev)),
      drive(random, b, id, random.pick(patterns.rev)),
      `kind: outcome\nid: ${id}-o${o}\ndate: 2026-03-14\npatient: ${a}\ndonor: ${b}\nrom: chip_moved\ncontrols: {swapped_back: both_work}\nreached: ${works ? 'reads' : 'spins'}\nresult: ${works ? 'works' : 'fails'}\n`,
    ].join('---\n');
  });
  return {
    [`families/${n}.yaml`]: `kind: family\nid: ${id}\nmaker: ${n % 2 === 0 ? 'wren' : 'rook'}\nname: Family ${n}\nadaptives: {stored_in: rom_chip}\n`,
    [`boards/${n}.yaml`]: `kind: board\nid: board-${id}\nmaker: wren\npart_number: "${n}"\nfamilies: [${id}]\nrevisions:\n${revisions.join('')}`,
    [`outcomes/${n}.yaml`]: tried.join('---\n'),
  };
}

function drive(random: Random, id: string, family: string, rev: string): string {
  const keys = (['firmware', 'site', 'model', 'heads'] as const).flatMap((key) =>
    random.integer(0, 3) > 0 ? [`${key}: ${random.pick(patterns[key])}\n`] : [],
  );
  const week = String(random.integer(1, 52)).padStart(2, '0');
  const own = random.integer(0, 3) > 0 ? `, motor_driver: MD${random.integer(0, 2)}` : '';
  return `kind: drive\nid: ${id}\nfamily: ${family}\n${keys.join('')}made: ${random.integer(2010, 2014)}-W${week}\nboard: {id: board-${family}, rev: ${rev}${own}}\ncondition: {board: good}\nshelf: {spare: true}\n`;
}

const rules = [
  ['needs', '{rom_travels: true}'],
  ['needs', '{same: [controller]}'],
  ['enough', '{rom_travels: true, revision: drop_in, same: [motor_driver, firmware]}'],
  ['prevents', '{different: [contact_pads]}'],
  ['prevents', '{donor: {rev: board-family-0/A}, patient: {made: {from: 2012}}}'],
  ['enough', '{same: [rev, heads, site], made_within_weeks: 26}'],
  ['needs', '{same: [heads]}\nat_least: 0.6'],
  ['enough', '{same: [model]}\nat_least: 0.7'],
].map(([claim, when], n) => `kind: rule\nid: rule-${n}\nclaim: ${claim}\nwhen: ${when}\n`);
