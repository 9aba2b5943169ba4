import { ternBench } from './tern-bench.ts';

/** Five pairs whose boards came from one works start, and one whose did not and which breaks a law. */
export const mendableBench = {
  ...ternBench,
  'drives/more.yaml': Array.from({ length: 12 }, (_, number) => {
    const site = number === 1 ? 'SB' : 'KL';
    return `kind: drive\nid: m-${number}\nfamily: tern-2\nheads: 4\nsite: ${site}\n`;
  }).join('---\n'),
  'rules/tern.yaml': 'kind: rule\nid: tern-heads\nclaim: enough\nwhen: {same: [heads]}\nbasis: measured\n',
  'outcomes/more.yaml': Array.from({ length: 6 }, (_, pair) => {
    const [reached, result] = pair === 0 ? ['spins', 'fails'] : ['reads', 'works'];
    const controls = '{donor_on_own_board: works, patient_on_own_board: works}';
    return `kind: outcome\nid: o-${pair}\ndate: 2026-03-14\npatient: m-${2 * pair}\ndonor: m-${2 * pair + 1}\nrom: left\ncontrols: ${controls}\nreached: ${reached}\nresult: ${result}\n`;
  }).join('---\n'),
};
