import { describe, expect, it } from 'vitest';
import { derive } from '../../server/src/core/index/derivation.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { contextOf, pairOf } from '../../server/src/core/verdicts/drive-context.ts';
import { allEvidence, evidenceOf } from '../../server/src/core/verdicts/evidence.ts';
import { evidenceByFamily } from '../../server/src/core/verdicts/evidence-by-family.ts';
import { reportsOf } from '../../server/src/core/verdicts/identity-rows.ts';
import { contradictingReadings, readDateCode } from '../../server/src/core/verdicts/made-readings.ts';
import { ownValueOf } from '../../server/src/core/verdicts/own-value.ts';
import { doubtsAbout, usesByDrive } from '../../server/src/core/verdicts/part-doubts.ts';
import { isBeyondCapacity, verifyRowsOf } from '../../server/src/core/verdicts/verify-rows.ts';
import { fileOf, snapshotOf } from '../harness/snapshot-of.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

function edited(snapshot: Snapshot, path: string, text: string): Snapshot {
  return snapshot.with([{ path, file: fileOf(path, text) }]);
}

describe('evidence', () => {
  const why = (base: SwapBase) => {
    const [one] = allEvidence(snapshotOf(swapBase(base)));
    return one!.verdicts.reads.missing.map(({ what, path, says }) => `${what} ${path.join('.')}: ${says}`);
  };

  it('is none of a drive with itself, or of what cannot be read', () => {
    const one = 'what was reached, the patient or the donor cannot be read';
    const withPatient = (patient: string) => ({
      'outcomes/one.yaml': `kind: outcome\nid: one\npatient: ${patient}\ndonor: d-0118\nreached: reads\n`,
    });
    expect(why({ files: withPatient('d-0118') })).toEqual([
      'record donor: patient and donor are one drive, which is no swap',
    ]);
    expect(why({ files: withPatient('3') })).toEqual([`record patient: ${one}`]);
    expect(why({ files: withPatient('nobody') })).toEqual([`record donor: ${one}`]);
    expect(why({ reached: 'far' })).toEqual([`record reached: ${one}`]);
  });

  it('stays the same object unless a record it rests on changes', () => {
    const base = swapBase({ files: { 'more.yaml': 'kind: drive\nid: d-0119\nfamily: tern-2\n' } });
    const before = snapshotOf(base);
    const [one] = allEvidence(before);
    for (const [path, line, isKept] of [
      ['more.yaml', 'site: KL', true],
      ['drives/a.yaml', 'site: KL', false],
      ['drives/b.yaml', 'site: KL', false],
      ['families/tern.yaml', 'interface: sata', false],
      ['outcomes/one.yaml', 'rom: left', false],
    ] as const) {
      const after = edited(before, path, `${base[path]}${line}\n`);
      expect(allEvidence(after)[0] === one, path).toBe(isKept);
      expect(evidenceOf(after.find('outcome', 'one')!, after)).toBe(allEvidence(after)[0]);
    }
    const gone = edited(
      before,
      'outcomes/one.yaml',
      `${base['outcomes/one.yaml']}retracted: {on: 2026-03-15, because: wrong}\n`,
    );
    expect(allEvidence(gone)).toEqual([]);
  });

  it('goes with the family of its patient', () => {
    const base = swapBase({ files: { 'more.yaml': 'kind: family\nid: tern-3\nmaker: wren\nname: Tern 3\n' } });
    const before = snapshotOf(base);
    const familiesIn = (snapshot: Snapshot) =>
      Array.from(evidenceByFamily(snapshot), ([family, list]) => `${family} ${list.length}`);
    expect(familiesIn(before)).toEqual(['tern-2 1']);
    const moved = edited(before, 'drives/a.yaml', base['drives/a.yaml']!.replace('tern-2', 'tern-3'));
    expect(familiesIn(moved)).toEqual(['tern-3 1']);
    const donor = edited(moved, 'drives/b.yaml', base['drives/b.yaml']!.replace('tern-2', 'tern-3'));
    expect(familiesIn(donor)).toEqual(['tern-3 1']);
  });
});

describe('doubts about a drive', () => {
  const outcome = (id: string, date: string, more: string) =>
    `kind: outcome\nid: ${id}\n${date === '' ? '' : `date: ${date}\n`}patient: d-0117\ndonor: d-0118\nrom: left\n${more}\n`;
  const dead = 'reached: nothing\ncontrols: {patient_on_own_board: fails}';
  const fine = 'reached: nothing\ncontrols: {patient_on_own_board: works}';
  const told = (texts: readonly string[], after?: string) => {
    const snapshot = snapshotOf(swapBase({ files: { 'outcomes/one.yaml': texts.join('---\n') } }));
    return doubtsAbout(snapshot.find('drive', 'd-0117')!, after, snapshot).map(
      ({ about, outcome: { id } }) => `${id} ${about}`,
    );
  };

  it('are taken back by what worked on the same day or later, and by what has no date', () => {
    expect(told([outcome('a', '2026-03-02', dead), outcome('b', '2026-03-01', fine)])).toEqual(['a drive']);
    expect(told([outcome('a', '2026-03-02', dead), outcome('b', '2026-03-02', fine)])).toEqual([]);
    expect(told([outcome('a', '2026-03-02', dead), outcome('b', '2026-03-03', fine)])).toEqual([]);
    expect(told([outcome('a', '2026-03-02', dead), outcome('b', '', fine)])).toEqual([]);
    expect(told([outcome('a', '', dead), outcome('b', '2026-03-01', fine)])).toEqual([]);
  });

  it('come by date, and of one day by id; only those after a day where one is asked for', () => {
    const texts = [
      outcome('c', '2026-03-02', dead),
      outcome('b', '2026-03-03', dead),
      outcome('a', '2026-03-03', dead),
      outcome('d', '', dead),
    ];
    expect(told(texts)).toEqual(['d drive', 'c drive', 'a drive', 'b drive']);
    expect(told(texts, '2026-03-02')).toEqual(['a drive', 'b drive']);
  });

  it('are taken back for the half that worked', () => {
    const recovered = 'reached: reads\ncontrols: {patient_on_own_board: fails}';
    const ground = 'reached: spins\nobserved: {sound: grinding}';
    expect(told([outcome('a', '2026-03-02', ground), outcome('b', '2026-03-03', recovered)])).toEqual(['b board']);
    expect(told([outcome('a', '2026-03-02', recovered), outcome('b', '2026-03-03', 'reached: reads')])).toEqual([
      'a board',
    ]);
  });

  it('are none of an outcome whose controls cannot be read, or of one drive with itself', () => {
    expect(
      told([
        outcome('a', '2026-03-02', 'reached: nothing\ncontrols: {patient_on_own_board: fails, swapped_back: perhaps}'),
      ]),
    ).toEqual([]);
    expect(told([outcome('a', '2026-03-02', dead).replace('d-0118', 'd-0117')])).toEqual([]);
  });

  it('are kept by drive, and follow edits', () => {
    const base = swapBase({});
    const before = snapshotOf(base);
    const usesIn = (snapshot: Snapshot) =>
      ['d-0117', 'd-0118', 'd-0119'].map((id) =>
        derive(usesByDrive, snapshot)
          .get(id)
          ?.map(({ outcome: { id: of }, role }) => `${of} ${role}`),
      );
    expect(usesIn(before)).toEqual([['one patient'], ['one donor'], undefined]);
    const turned = edited(
      before,
      'outcomes/one.yaml',
      base['outcomes/one.yaml']!.replace('donor: d-0118', 'donor: d-0119'),
    );
    expect(usesIn(turned)).toEqual([['one patient'], undefined, ['one donor']]);
  });
});

describe('a date code', () => {
  const read = (maker: string, patient: string) => {
    const snapshot = snapshotOf(swapBase({ maker, patient }));
    const context = contextOf(snapshot.find('drive', 'd-0117')!, snapshot);
    const code = readDateCode(context);
    const schemes = code.state === 'read' ? ` by ${code.readings.map(({ scheme }) => scheme).join(' and ')}` : '';
    const says = code.state === 'unreadable' ? `: ${code.says}` : '';
    return `${code.state}${schemes}${says}; ${contradictingReadings(context).length} against made`;
  };
  const week = '{scheme: iso_week, format: YYWW}';

  it('is read by the schemes that were in use then, and by all where none was', () => {
    expect([
      read('', 'date_code: "1210"'),
      read(`date_code: [${week}]`, ''),
      read(`date_code: [${week}]`, 'date_code: "1210"'),
      read(`date_code: [${week}]`, 'date_code: "1254"'),
      read(`date_code: [${week}]`, 'date_code: "12"'),
      read(`date_code: [${week}]`, 'date_code: "1210"\nmade: 2012-03'),
      read(`date_code: [${week}]`, 'date_code: "1210"\nmade: 2012-06'),
      read(
        'date_code: [{scheme: iso_week, format: YYWW, to: 2010}, {scheme: iso_week, format: YYWW, from: 2011}]',
        'date_code: "1210"',
      ),
      read(
        'date_code: [{scheme: iso_week, format: YYWW, to: 2010}, {scheme: iso_week, format: YYWW, to: 2011}]',
        'date_code: "1210"',
      ),
      read('date_code: [{scheme: iso_week}]', 'date_code: "1210"'),
      read(`date_code: [${week}, {scheme: iso_week}]`, 'date_code: "1210"\nmade: 2012-06'),
    ]).toMatchInlineSnapshot(`
      [
        "undecided; 0 against made",
        "undecided; 0 against made",
        "read by 0; 0 against made",
        "unreadable: week 54 of 2012; 0 against made",
        "unreadable: undefined; 0 against made",
        "read by 0; 0 against made",
        "read by 0; 1 against made",
        "read by 1; 0 against made",
        "read by 0 and 1; 0 against made",
        "undecided; 0 against made",
        "read by 0; 0 against made",
      ]
    `);
  });
});

it("holds what was reported before a swap against the drive's own record", () => {
  const told = (drive: string, row: string, more: SwapBase = {}) => {
    const snapshot = snapshotOf(swapBase({ patient: drive, outcome: `identity: [${row}]`, ...more }));
    const outcome = snapshot.find('outcome', 'one')!;
    return reportsOf(outcome).map(
      (report) =>
        `${drive.replaceAll('\n', ', ')} / ${row}: ${JSON.stringify(ownValueOf(report, pairOf(outcome, snapshot), outcome))}`,
    );
  };
  const sectors = { family: 'sector_bytes: {logical: 512}' };
  expect(
    [
      told('model: M1', '{value: model, patient_before: M1}'),
      told('model: M1', '{value: model, patient_before: " m1"}'),
      told('model: M1', '{value: model, patient_before: M2}'),
      told('model: M1', '{value: model, donor_before: M2}'),
      told('model: M1', '{value: model, after: M2}'),
      told('', '{value: model, patient_before: M2}'),
      told('serial: WRN12345', '{value: serial, patient_before: "****2345"}'),
      told('serial: "****2345"', '{value: serial, patient_before: WRN12346}'),
      told('firmware: F1', '{value: firmware, patient_before: F2}'),
      told('lba_count: 1000', '{value: capacity, patient_before: 1000}'),
      told('lba_count: 1000', '{value: capacity, patient_before: 1001}'),
      told('lba_count: 1000', '{value: capacity, patient_before: 999}'),
      told('lba_count: 1000', '{value: capacity, patient_before: 512000}', sectors),
      told('lba_count: 1000', '{value: capacity, patient_before: 512001}', sectors),
      told('capacity_gb: 500', '{value: capacity, patient_before: 976773168}', sectors),
      told('capacity_gb: 500', '{value: capacity, patient_before: 500107862016}', sectors),
      told('capacity_gb: 500', '{value: capacity, patient_before: 1953525168}', sectors),
      told('capacity_gb: 500\nhost_protected: true', '{value: capacity, patient_before: 900000000}', sectors),
      told('power_on_hours: 100', '{value: power_on_hours, patient_before: 90}'),
      told('power_on_hours: 100', '{value: power_on_hours, patient_before: 110}'),
    ].flat(),
  ).toMatchInlineSnapshot(`
    [
      "model: M1 / {value: model, patient_before: M1}: {"key":"model","value":"M1","fits":true,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","model":"M1"},"unusable":[]}}",
      "model: M1 / {value: model, patient_before: " m1"}: {"key":"model","value":"M1","fits":true,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","model":"M1"},"unusable":[]}}",
      "model: M1 / {value: model, patient_before: M2}: {"key":"model","value":"M1","fits":false,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","model":"M1"},"unusable":[]}}",
      "model: M1 / {value: model, donor_before: M2}: undefined",
      "model: M1 / {value: model, after: M2}: undefined",
      " / {value: model, patient_before: M2}: undefined",
      "serial: WRN12345 / {value: serial, patient_before: "****2345"}: {"key":"serial","value":"WRN12345","fits":true,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","serial":"WRN12345"},"unusable":[]}}",
      "serial: "****2345" / {value: serial, patient_before: WRN12346}: {"key":"serial","value":"****2345","fits":false,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","serial":"****2345"},"unusable":[]}}",
      "firmware: F1 / {value: firmware, patient_before: F2}: undefined",
      "lba_count: 1000 / {value: capacity, patient_before: 1000}: {"key":"lba_count","value":1000,"fits":true,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","lba_count":1000},"unusable":[]}}",
      "lba_count: 1000 / {value: capacity, patient_before: 1001}: {"key":"lba_count","value":1000,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","lba_count":1000},"unusable":[]}}",
      "lba_count: 1000 / {value: capacity, patient_before: 999}: {"key":"lba_count","value":1000,"fits":false,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","lba_count":1000},"unusable":[]}}",
      "lba_count: 1000 / {value: capacity, patient_before: 512000}: {"key":"lba_count","value":1000,"fits":true,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","lba_count":1000},"unusable":[]}}",
      "lba_count: 1000 / {value: capacity, patient_before: 512001}: {"key":"lba_count","value":1000,"fits":false,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","lba_count":1000},"unusable":[]}}",
      "capacity_gb: 500 / {value: capacity, patient_before: 976773168}: {"key":"capacity_gb","value":500,"fits":true,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","capacity_gb":500},"unusable":[]}}",
      "capacity_gb: 500 / {value: capacity, patient_before: 500107862016}: {"key":"capacity_gb","value":500,"fits":true,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","capacity_gb":500},"unusable":[]}}",
      "capacity_gb: 500 / {value: capacity, patient_before: 1953525168}: {"key":"capacity_gb","value":500,"fits":false,"side":"patient","drive":{"kind":"drive","id":"d-0117","data":{"kind":"drive","family":"tern-2","capacity_gb":500},"unusable":[]}}",
      "capacity_gb: 500, host_protected: true / {value: capacity, patient_before: 900000000}: undefined",
      "power_on_hours: 100 / {value: power_on_hours, patient_before: 90}: undefined",
      "power_on_hours: 100 / {value: power_on_hours, patient_before: 110}: undefined",
    ]
  `);
});

it('counts bytes beyond what a drive holds, pass by pass', () => {
  const told = (row: string, patient = 'lba_count: 1000') => {
    const snapshot = snapshotOf(
      swapBase({ patient, family: 'sector_bytes: {logical: 512}', outcome: `verify: [${row}]` }),
    );
    const outcome = snapshot.find('outcome', 'one')!;
    return verifyRowsOf(outcome, pairOf(outcome, snapshot)).map(
      (one) => `${one.position} ${one.limitBytes} ${isBeyondCapacity(one)}`,
    );
  };
  expect(told('{method: hash_compare, bytes: 512000}')).toEqual(['0 512000 false']);
  expect(told('{method: hash_compare, bytes: 512001}')).toEqual(['0 512000 true']);
  expect(told('{method: hash_compare, bytes: 512001, passes: 2}')).toEqual(['0 1024000 false']);
  expect(told('{method: hash_compare}')).toEqual(['0 512000 false']);
  expect(told('{method: hash_compare, bytes: 512001, passes: often}')).toEqual(['0 undefined false']);
  expect(told('{method: hash_compare, bytes: 512001}', '')).toEqual(['0 undefined false']);
});
