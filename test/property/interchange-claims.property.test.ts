import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import type { BoardRecord } from '../../server/src/core/model/record.ts';
import { interchangeClaims } from '../../server/src/core/reasoning/interchange-claims.ts';
import { isClaimedInterchange } from '../../server/src/core/reasoning/unexplained-interchanges.ts';
import { foldText } from '../../server/src/core/text/fold.ts';
import { evidenceByFamily } from '../../server/src/core/verdicts/evidence-by-family.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const revisions = ['A', 'B', 'C'];

/** Bases with one board, whose revisions claim this and that, and swaps of its drives; a law foretells some failures. */
const snapshots = fc
  .record({
    claims: fc.array(fc.tuple(fc.constantFrom(...revisions), fc.constantFrom(...revisions)), { maxLength: 5 }),
    swaps: fc.array(
      fc.tuple(fc.nat(5), fc.nat(5), fc.constantFrom('reads', 'ready', 'spins'), fc.boolean(), fc.boolean()),
      { maxLength: 8 },
    ),
  })
  .map(({ claims, swaps }) => {
    const listed = revisions.map((rev) => {
      const others = claims.flatMap(([donor, patient]) => (donor === rev ? patient : []));
      return `{rev: ${rev}, drop_in_for: [${others.join(', ')}]}`;
    });
    const drives = Array.from({ length: 6 }, (_, n) => {
      const own = `{id: w100, rev: ${revisions[n % 3]}, sticker: s${n % 2}}`;
      return `kind: drive\nid: d-${n}\nfamily: tern-2\nboard: ${own}\n`;
    });
    const outcomes = swaps.map(([patient, donor, reached, isControlled, travels], n) => {
      const rom = `rom: ${travels ? 'chip_moved' : 'left'}\n`;
      const controls = isControlled ? 'controls: {swapped_back: both_work}\n' : '';
      return `kind: outcome\nid: o-${n}\ndate: 2026-03-14\npatient: d-${patient}\ndonor: d-${donor}\n${rom}${controls}reached: ${reached}\n`;
    });
    return snapshotOf({
      'maker.yaml': 'kind: maker\nid: wren\nname: Wren\n',
      'family.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
      'board.yaml': `kind: board\nid: w100\nmaker: wren\npart_number: W100\nrevisions: [${listed.join(', ')}]\n`,
      'rule.yaml': 'kind: rule\nid: stickers\nclaim: prevents\nwhen: {different: [sticker]}\nstage: ready\n',
      'drives.yaml': drives.join('---\n'),
      'outcomes.yaml': outcomes.join('---\n'),
    });
  });

/** Every board with every family. */
function eachOf(snapshot: Snapshot): readonly (readonly [BoardRecord, string])[] {
  return snapshot.records('board').flatMap((board) => snapshot.records('family').map(({ id }) => [board, id] as const));
}

describe('claims of interchange', () => {
  it('every claim of a board is listed once, and nothing else is as claimed', () => {
    let seen = 0;
    assertLaw(
      20,
      fc.property(snapshots, (snapshot) => {
        for (const [board, family] of eachOf(snapshot)) {
          const stated = (board.data.revisions ?? []).flatMap(({ rev = '', drop_in_for: others = [] }) =>
            others.map((other) => `${foldText(rev)} for ${foldText(other)}`),
          );
          const listed = interchangeClaims(board, family, snapshot).filter(({ isClaimed }) => isClaimed);
          const named = listed.map(({ rev, standsFor }) => `${foldText(rev)} for ${foldText(standsFor)}`);
          expect(named).toEqual([...new Set(stated)]);
          seen += named.length;
        }
      }),
    );
    expectOften(seen, 0);
  });

  it('every decided swap of a claimed interchange is in one place', () => {
    const seen = { worked: 0, failed: 0, explained: 0 };
    assertLaw(
      80,
      fc.property(snapshots, (snapshot) => {
        for (const { id } of snapshot.records('family')) {
          const decided = (evidenceByFamily(snapshot).get(id) ?? []).filter(
            (one) => isClaimedInterchange(one) && one.verdicts[snapshot.config.worksAt].result !== 'inconclusive',
          );
          const claims = snapshot.records('board').flatMap((board) => interchangeClaims(board, id, snapshot));
          const counted = claims.reduce((sum, { worked, failed, explained }) => sum + worked + failed + explained, 0);
          expect(counted).toBe(decided.length);
          for (const claim of claims) {
            for (const key of ['worked', 'failed', 'explained'] as const) seen[key] += claim[key];
          }
        }
      }),
    );
    expectOften(Math.min(...Object.values(seen)), 0);
  });
});
