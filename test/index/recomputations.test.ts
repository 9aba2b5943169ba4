import { describe, expect, it } from 'vitest';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { newlyWanted, wantsOf } from '../../server/src/core/index/attachments.ts';
import { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { familyOdds } from '../../server/src/core/odds/family-odds.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { drained } from '../harness/drained.ts';
import { configFileOf, fileOf, snapshotOf, withSeen } from '../harness/snapshot-of.ts';

/** Two families of one maker; three outcomes in the first, one in the second; a rule for each and one for all. */
const files: Readonly<Record<string, string>> = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
  'families/skua.yaml': 'kind: family\nid: skua\nmaker: wren\nname: Skua\n',
  ...Object.fromEntries(['1', '2', '3'].map((id) => [`drives/t${id}.yaml`, drive(`t${id}`, 'tern-2')])),
  ...Object.fromEntries(['1', '2'].map((id) => [`drives/s${id}.yaml`, drive(`s${id}`, 'skua')])),
  'outcomes/t12.yaml': outcome('t12', 't1', 't2'),
  'outcomes/t13.yaml': outcome('t13', 't1', 't3'),
  'outcomes/t23.yaml': outcome('t23', 't2', 't3'),
  'outcomes/s12.yaml': outcome('s12', 's1', 's2'),
  'rules/tern.yaml': rule('tern-rom', 'applies_to: {families: [tern-2]}\n'),
  'rules/skua.yaml': rule('skua-rom', 'applies_to: {families: [skua]}\n'),
  'rules/all.yaml': rule('any-rom', ''),
};

function drive(id: string, family: string): string {
  return `kind: drive\nid: ${id}\nfamily: ${family}\n`;
}

function outcome(id: string, patient: string, donor: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nrom: chip_moved\nreached: reads\nresult: works\n`;
}

function rule(id: string, scope: string): string {
  return `kind: rule\nid: ${id}\n${scope}claim: needs\nwhen: {rom_travels: true}\n`;
}

const today = parseDate('2026-11-25') ?? 0;

/** What is made anew after one text of a file is replaced by another. */
function recomputed(path: string, from: string, to: string): Record<'evidence' | 'results' | 'records', unknown> {
  const start = Snapshot.of(
    configFileOf('swaplore: 1\n'),
    Object.entries(files).map(([name, text]) => fileOf(name, text)),
  );
  const before = drained(runChecks(start, { today }));
  const { [path]: text = '' } = files;
  expect(text).toContain(from);
  const after = start.with([{ path, file: fileOf(path, text.replace(from, to)) }]);
  const checked = drained(runChecks(after, { today, before }));
  expect(findingsOf(checked).length).toBeGreaterThan(0);
  const evidence = new Set(allEvidence(start));
  const results = new Set(ruleResults(start));
  return {
    evidence: allEvidence(after)
      .filter((one) => !evidence.has(one))
      .map((one) => one.outcome.id),
    results: ruleResults(after)
      .filter((one) => !results.has(one))
      .map((one) => one.rule.record.id),
    records: checked.recordsChecked,
  };
}

describe('what one edit has computed again', () => {
  it('nothing, where only a note or a comment is new', () => {
    const nothing = { evidence: [], results: [], records: 0 };
    expect(recomputed('outcomes/t12.yaml', 'result: works\n', 'result: works # seen twice\n')).toEqual(nothing);
    expect(recomputed('drives/t1.yaml', 'family: tern-2\n', 'family: tern-2\nnotes: Chipped corner.\n')).toEqual(
      nothing,
    );
  });

  it('of an outcome: itself, the rules it lies in, and the findings about it and its two drives', () => {
    expect(recomputed('outcomes/t12.yaml', 'reached: reads', 'reached: spins')).toEqual({
      evidence: ['t12'],
      results: ['any-rom', 'tern-rom'],
      records: 3,
    });
  });

  it('of a drive: its outcomes, the rules they lie in, and the findings about them and their drives', () => {
    expect(recomputed('drives/t1.yaml', 'family: tern-2\n', 'family: tern-2\nheads: 2\n')).toEqual({
      evidence: ['t12', 't13'],
      results: ['any-rom', 'tern-rom'],
      records: 5,
    });
  });

  it('of a family: the outcomes of its drives and no others', () => {
    expect(recomputed('families/skua.yaml', 'name: Skua\n', 'name: Skua\nhost_needs: [port_power]\n')).toMatchObject({
      evidence: ['s12'],
      results: ['any-rom', 'skua-rom'],
    });
  });

  it('of a rule: its own result, and the findings about it', () => {
    expect(recomputed('rules/tern.yaml', 'rom_travels: true', 'rom_travels: false')).toEqual({
      evidence: [],
      results: ['tern-rom'],
      records: 1,
    });
  });

  it('of a drive, where nothing that evidence rests on is new: the evidence, since the drive is another record', () => {
    expect(recomputed('drives/s1.yaml', 'family: skua\n', 'family: skua\nshelf: {spare: true}\n')).toMatchObject({
      evidence: ['s12'],
      results: ['any-rom', 'skua-rom'],
    });
  });

  it('of an outcome: the odds of its family and of no other', () => {
    const start = Snapshot.of(
      configFileOf('swaplore: 1\n'),
      Object.entries(files).map(([path, text]) => fileOf(path, text)),
    );
    const path = 'outcomes/s12.yaml';
    const before = ['skua', 'tern-2'].map((id) => familyOdds(id, start));
    const edited = start.with([{ path, file: fileOf(path, outcome('s12', 's1', 's2').replace('works', 'fails')) }]);
    const after = ['skua', 'tern-2'].map((id) => familyOdds(id, edited));
    expect(after.map((odds, position) => odds === before[position])).toEqual([false, true]);
  });
});

describe('what has a file looked at again', () => {
  it('an outcome that names it, and nothing else', () => {
    const path = 'outcomes/t12.yaml';
    const named = `${files[path]}captures: {after: a.json}\nphotos: [{file: b.jpg}]\n`;
    const texts = { ...files, [path]: named, 'outcomes/a.json': '{}\n', 'outcomes/b.jpg': 'a picture' };
    const start = snapshotOf(texts);
    const before = drained(runChecks(start, { today }));
    const after = withSeen(start, { ...texts, 'outcomes/a.json': '[]\n' });
    const checked = drained(runChecks(after, { today, before }));
    expect(checked.recordsChecked).toBe(1);
    expect(allEvidence(after)).toEqual(allEvidence(start));
    expect(allEvidence(after).every((one) => allEvidence(start).includes(one))).toBe(true);
    expect(withSeen(after, { ...texts, 'outcomes/a.json': '[]\n' })).toBe(after);
    // Of a photo nothing is wanted but that it is there.
    expect(withSeen(start, { ...texts, 'outcomes/b.jpg': 'another picture' })).toBe(start);
  });

  it('nobody wants anew what other edits leave alone', () => {
    const path = 'outcomes/t12.yaml';
    const named = `${files[path]}captures: {after: a.json}\n`;
    const start = snapshotOf({ ...files, [path]: named });
    const other = start.with([{ path: 'drives/t1.yaml', file: fileOf('drives/t1.yaml', drive('t1', 'skua')) }]);
    expect(wantsOf(other)).toBe(wantsOf(start));
    const own = start.with([{ path, file: fileOf(path, named.replace('works', 'fails')) }]);
    expect(newlyWanted(wantsOf(start), wantsOf(own))).toEqual({ wanted: [], unwanted: [] });
  });
});
