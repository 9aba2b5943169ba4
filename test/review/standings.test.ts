import { describe, expect, it } from 'vitest';
import { reviewOf } from '../harness/review-of.ts';
import type { Texts } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';

const bench: Record<string, string> = {
  ...ternBench,
  'drives/shelf.yaml': `kind: drive
id: d-0200
family: tern-2
data: wanted
board: {id: b-1, rev: A}
---
kind: drive
id: d-0201
family: tern-2
board: {id: b-1, rev: B}
shelf: {spare: true}
`,
  'boards/b-1.yaml': 'kind: board\nid: b-1\nmaker: wren\npart_number: "1"\nrevisions: [{rev: A}, {rev: B}]\n',
};

const sameRevision = 'kind: rule\nid: same-revision\nclaim: needs\nwhen: {same: [rev]}\nbasis: measured\n';

function flips(before: Texts, after: Texts) {
  const { donors, rules } = reviewOf(before, after).standings;
  return {
    donors: donors.map((flip) => `${flip.patient.id} ${flip.donor.id}: ${flip.before} → ${flip.after}`),
    rules: rules.map((flip) => `${flip.id}: ${flip.before} → ${flip.after}`),
  };
}

describe('standings', () => {
  it('a new law takes a donor from a patient, and gives it back where it goes', () => {
    const after = { ...bench, 'rules/same.yaml': sameRevision };
    expect(flips(bench, after)).toEqual({
      donors: ['d-0200 d-0201: open → excluded'],
      rules: ['same-revision: undefined → untested'],
    });
    expect(flips(after, bench).donors).toEqual(['d-0200 d-0201: excluded → open']);
  });

  it('a donor that is lent elsewhere is offered no more', () => {
    const lent = { ...bench, 'drives/shelf.yaml': bench['drives/shelf.yaml']!.replace('spare: true', 'spare: false') };
    expect(flips(bench, lent).donors).toEqual(['d-0200 d-0201: open → undefined']);
  });

  it('nobody is told of drives whose data nobody wants', () => {
    const tests = { ...bench, 'drives/shelf.yaml': bench['drives/shelf.yaml']!.replace('data: wanted', 'data: test') };
    expect(flips(tests, { ...tests, 'rules/same.yaml': sameRevision }).donors).toEqual([]);
  });

  it('a rule is broken by an outcome, untested without one, and impossible by its condition', () => {
    const left = ternBench['outcomes/moved.yaml'].replace('id: moved', 'id: left').replace('chip_moved', 'left');
    expect(flips(bench, { ...bench, 'outcomes/left.yaml': left }).rules).toEqual([
      'tern-rom-travels: stands → against',
    ]);
    const { 'outcomes/moved.yaml': _, ...none } = bench;
    expect(flips(bench, none).rules).toEqual(['tern-rom-travels: stands → untested']);
    const nothing = bench['rules/tern.yaml']!.replace('rom_travels: true', 'same: [rev], different: [board]');
    expect(flips(bench, { ...bench, 'rules/tern.yaml': nothing }).rules).toEqual([
      'tern-rom-travels: stands → impossible',
    ]);
  });
});
