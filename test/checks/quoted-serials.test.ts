import { expect, it } from 'vitest';
import { checkFresh, foundIn, type TextFiles } from '../harness/checked-files.ts';

const drives = (serial: string) =>
  `kind: maker\nid: wren\nname: Wren\n---\nkind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nidentity: {serial: platters, power_on_hours: platters}\n---\nkind: drive\nid: d-0117\nfamily: tern-2\nserial: ${serial}\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n`;

function outcome(rest: string): string {
  return `kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nrom: left\nreached: reads\nresult: works\n${rest}\n`;
}

function capture(taken: string, values: object): string {
  const source = { name: 'vpd_pg89', sha256: '3b1f0c6a'.repeat(8), values: {} };
  return JSON.stringify({ capture: 1, taken, values, sources: [source] });
}

function messagesOf(files: TextFiles, wanted: string): readonly string[] {
  return foundIn(checkFresh(files)).flatMap(({ check, message }) => (check === wanted ? [message] : []));
}

it('quotes a serial number with its tail alone, unless the base keeps them in full', () => {
  const rows = `identity:
  - {value: serial, patient_before: WRN0B9Q1C}
  - {value: serial, donor_before: WRN0D7T0B, after: WRN0D7T0B}
  - {value: serial, patient_before: WRN0A4F2K, after: WRN0C5R3M}`;
  const files = {
    'base.yaml': drives('WRN0A4F2K'),
    'one.yaml': outcome(`${rows}\ncaptures: {donor_before: b.json}`),
    'b.json': capture('2026-03-14', { serial: '****8H4J' }),
  };
  expect(messagesOf(files, 'identity-row-disagrees')).toEqual([
    'Serial number `****9Q1C` in `patient_before` is not that of patient `d-0117`, which is `****4F2K`.',
    'Serial number `****7T0B` in `donor_before` is not the `****8H4J` of capture `b.json`.',
    'Serial number `****5R3M` in `after` is not the `****7T0B` of another row.',
  ]);
  const full = { ...files, 'swaplore.yaml': 'swaplore: 1\nserials: full\n' };
  expect(messagesOf(full, 'identity-row-disagrees')[0]).toContain('`WRN0B9Q1C`');
});

it('quotes a serial number that followed another half with its tail alone', () => {
  const files = {
    'base.yaml': drives('WRN0A4F2K'),
    'one.yaml': outcome(
      'identity: [{value: serial, patient_before: WRN0A4F2K, donor_before: WRN0B9Q1C, after: WRN0B9Q1C}]',
    ),
  };
  expect(messagesOf(files, 'identity-disagrees')).toEqual([
    '`serial` `****9Q1C` in `after` is what donor `d-0118` reported before, so it followed the board; family `tern-2` says `platters`.',
  ]);
});

it('goes by the dates of captures where hours passed between them', () => {
  const files = {
    'base.yaml': drives('"****4F2K"'),
    'one.yaml': outcome('captures: {patient_before: a.json, donor_before: b.json, after: c.json}'),
    'a.json': capture('2026-01-01', { powerOnHours: 18_250 }),
    'b.json': capture('2026-03-14', { powerOnHours: 19_500 }),
    'c.json': capture('2026-03-14', { powerOnHours: 19_900 }),
  };
  expect(messagesOf(files, 'identity-disagrees')).toEqual([]);
});
