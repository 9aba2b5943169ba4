import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { defineCheck } from './define-check.ts';
import { exampleFamily, examplePair } from './example-base.ts';

const bench = { ...examplePair, ...exampleFamily() };
const failed = `rom: left
controls: {donor_on_own_board: works, patient_on_own_board: works}
reached: spins
result: fails
`;

/** A drive that clicked, beeped or ground and was left under power. */
export const keptPowered = defineCheck({
  check: 'kept-powered',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['outcome'],
  why: 'Clicking, grinding and beeping come from heads, media or motor. No board cures them, and every powered second can cost surface that no donor brings back; a grinding drive loses it from the first turn.',
  examples: () => [
    {
      title: 'A clicking drive under power for longer than the base allows',
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
observed: {spins: true, sound: clicking, powered_minutes: 4}
#                                                         ^ kept-powered: Outcome \`one\` kept a \`clicking\` drive powered for 4 min; at most 0.5 min are allowed in this base.
${failed}`,
      },
    },
    {
      title: 'A grinding drive under power at all',
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
observed: {spins: true, sound: grinding, powered_minutes: 0.1}
#                                                         ^^^ kept-powered: Outcome \`one\` kept a \`grinding\` drive powered for 0.1 min; a grinding drive is not to be powered at all.
${failed}`,
      },
    },
    {
      title: 'Switched off in time, and a healthy drive that ran for long',
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nobserved: {sound: clicking, powered_minutes: 0.5}\n${failed}`,
        'outcomes/two.yaml':
          'kind: outcome\nid: two\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nobserved: {sound: normal, powered_minutes: 240}\nreached: reads\nresult: works\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const { sound, powered_minutes: minutes } = record.data.observed ?? {};
    if (sound === undefined || minutes === undefined) return;
    const limit = longestMinutes(sound, snapshot.config.keptPoweredMinutes);
    if (limit === undefined || minutes <= limit) return;
    const allowed =
      sound === 'grinding'
        ? 'a grinding drive is not to be powered at all'
        : `at most ${limit} min are allowed in this base`;
    yield {
      at: { record, path: ['observed', 'powered_minutes'], side: 'value' },
      message: `Outcome \`${record.id}\` kept a \`${sound}\` drive powered for ${minutes} min; ${allowed}.`,
      help: 'Leave the drive without power. If it made that sound for a part of the time only, say so in `notes`.',
      related: [{ at: { record, path: ['observed', 'sound'], side: 'value' }, message: 'What was heard.' }],
    };
  },
});

/**
 * Longest time under power in minutes; undefined where the sound sets no limit.
 * Source: common practice, no source.
 */
function longestMinutes(sound: string, allowed: number): number | undefined {
  if (sound === 'grinding') return 0;
  return sound === 'clicking' || sound === 'beeping' ? allowed : undefined;
}
