import { expect, it } from 'vitest';
import type { DriveRecord } from '../../server/src/core/model/record.ts';
import {
  examinationOf,
  isBurnt,
  isSupplyShorted,
  mayTakeNextBoard,
} from '../../server/src/core/verdicts/examination.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

function driveOf(rows: string): DriveRecord {
  return snapshotOf({ 'd.yaml': `kind: drive\nid: d-0117\nexamined: ${rows}\n` }).find('drive', 'd-0117')!;
}

// Source: common practice, no source: what burnt one board burns the next, unless windings and head lines are found sound since.
it('comes to what the latest day says of each key, and warns where the next board may burn', () => {
  const cases = [
    '[]',
    '[{on: 2026-03-01, supply_5v: ok}]',
    '[{on: 2026-03-01, supply_5v: shorted}]',
    '[{on: 2026-03-01, supply_12v: shorted}, {on: 2026-03-02, supply_12v: ok}]',
    '[{on: 2026-03-02, supply_12v: ok}, {on: 2026-03-01, supply_12v: shorted}]',
    '[{on: 2026-03-01, supply_5v: open}, {on: 2026-03-01, supply_5v: shorted}, {on: 2026-03-01, supply_5v: ok}]',
    '[{on: 2026-03-01, motor_windings: shorted}]',
    '[{on: 2026-03-01, parts_burnt: true}]',
    '[{on: 2026-03-01, parts_burnt: false}]',
    '[{on: 2026-03-01, contacts: burnt, motor_windings: ok, head_lines: ok}]',
    '[{on: 2026-03-01, contacts: burnt}, {on: 2026-03-02, motor_windings: ok, head_lines: ok}]',
    '[{on: 2026-03-02, contacts: burnt}, {on: 2026-03-01, motor_windings: ok, head_lines: ok}]',
    '[{on: 2026-03-02, contacts: burnt}, {on: 2026-03-02, motor_windings: ok}]',
    '[{on: 2026-03-02, contacts: burnt}, {on: 2026-03-02, motor_windings: ok, head_lines: open}]',
    '[{on: 2026-03-01, contacts: oxidised}, {on: 2026-03-02, contacts: clean}]',
    '[{contacts: burnt}, {on: 2026-03-02, contacts: clean, motor_windings: ok, head_lines: ok}]',
    '[{on: 2026-03-01, parts_burnt: true}, {on: 2026-03-03, parts_burnt: true}, {on: 2026-03-02, motor_windings: ok, head_lines: ok}]',
    '[{on: 2026-03-01, supply_5v: shorted}, {on: 2026-03-02, motor_windings: ok, head_lines: ok}, {supply_5v: 12}]',
    'burnt',
  ];
  const told = cases.map((rows) => {
    const found = examinationOf(driveOf(rows));
    const readings = Object.entries(found.readings).map(
      ([key, { value, on, since }]) => `${key} ${value} on ${on} since ${since}`,
    );
    const marks = [
      ...(found.isUnreadable ? ['unreadable'] : []),
      ...(mayTakeNextBoard(found) ? ['may take the next board'] : []),
      ...(isSupplyShorted(found) ? ['supply shorted'] : []),
      ...(isBurnt(found) ? ['burnt'] : []),
    ];
    return `${rows}: ${[...readings, ...marks].join('; ')}`;
  });
  expect(told).toMatchInlineSnapshot(`
    [
      "[]: ",
      "[{on: 2026-03-01, supply_5v: ok}]: supply_5v ok on 2026-03-01 since 2026-03-01",
      "[{on: 2026-03-01, supply_5v: shorted}]: supply_5v shorted on 2026-03-01 since 2026-03-01; may take the next board; supply shorted",
      "[{on: 2026-03-01, supply_12v: shorted}, {on: 2026-03-02, supply_12v: ok}]: supply_12v ok on 2026-03-02 since 2026-03-02",
      "[{on: 2026-03-02, supply_12v: ok}, {on: 2026-03-01, supply_12v: shorted}]: supply_12v ok on 2026-03-02 since 2026-03-02",
      "[{on: 2026-03-01, supply_5v: open}, {on: 2026-03-01, supply_5v: shorted}, {on: 2026-03-01, supply_5v: ok}]: supply_5v shorted on 2026-03-01 since 2026-03-01; may take the next board; supply shorted",
      "[{on: 2026-03-01, motor_windings: shorted}]: motor_windings shorted on 2026-03-01 since 2026-03-01; may take the next board",
      "[{on: 2026-03-01, parts_burnt: true}]: parts_burnt true on 2026-03-01 since 2026-03-01; may take the next board; burnt",
      "[{on: 2026-03-01, parts_burnt: false}]: parts_burnt false on 2026-03-01 since 2026-03-01",
      "[{on: 2026-03-01, contacts: burnt, motor_windings: ok, head_lines: ok}]: motor_windings ok on 2026-03-01 since 2026-03-01; head_lines ok on 2026-03-01 since 2026-03-01; contacts burnt on 2026-03-01 since 2026-03-01; burnt",
      "[{on: 2026-03-01, contacts: burnt}, {on: 2026-03-02, motor_windings: ok, head_lines: ok}]: motor_windings ok on 2026-03-02 since 2026-03-02; head_lines ok on 2026-03-02 since 2026-03-02; contacts burnt on 2026-03-01 since 2026-03-01; burnt",
      "[{on: 2026-03-02, contacts: burnt}, {on: 2026-03-01, motor_windings: ok, head_lines: ok}]: motor_windings ok on 2026-03-01 since 2026-03-01; head_lines ok on 2026-03-01 since 2026-03-01; contacts burnt on 2026-03-02 since 2026-03-02; may take the next board; burnt",
      "[{on: 2026-03-02, contacts: burnt}, {on: 2026-03-02, motor_windings: ok}]: motor_windings ok on 2026-03-02 since 2026-03-02; contacts burnt on 2026-03-02 since 2026-03-02; may take the next board; burnt",
      "[{on: 2026-03-02, contacts: burnt}, {on: 2026-03-02, motor_windings: ok, head_lines: open}]: motor_windings ok on 2026-03-02 since 2026-03-02; head_lines open on 2026-03-02 since 2026-03-02; contacts burnt on 2026-03-02 since 2026-03-02; may take the next board; burnt",
      "[{on: 2026-03-01, contacts: oxidised}, {on: 2026-03-02, contacts: clean}]: contacts clean on 2026-03-02 since 2026-03-02",
      "[{contacts: burnt}, {on: 2026-03-02, contacts: clean, motor_windings: ok, head_lines: ok}]: motor_windings ok on 2026-03-02 since 2026-03-02; head_lines ok on 2026-03-02 since 2026-03-02; contacts burnt on undefined since undefined; may take the next board; burnt",
      "[{on: 2026-03-01, parts_burnt: true}, {on: 2026-03-03, parts_burnt: true}, {on: 2026-03-02, motor_windings: ok, head_lines: ok}]: motor_windings ok on 2026-03-02 since 2026-03-02; head_lines ok on 2026-03-02 since 2026-03-02; parts_burnt true on 2026-03-03 since 2026-03-01; burnt",
      "[{on: 2026-03-01, supply_5v: shorted}, {on: 2026-03-02, motor_windings: ok, head_lines: ok}, {supply_5v: 12}]: supply_5v shorted on 2026-03-01 since 2026-03-01; motor_windings ok on 2026-03-02 since 2026-03-02; head_lines ok on 2026-03-02 since 2026-03-02; unreadable; may take the next board; supply shorted",
      "burnt: unreadable",
    ]
  `);
});
