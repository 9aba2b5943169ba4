import { describe, expect, it } from 'vitest';
import type { Answers } from '../../server/src/core/recording/answers.ts';
import { askNext, questionNames, type RecordedKind } from '../../server/src/core/recording/recording.ts';
import { dayOf } from '../../server/src/core/terms/calendar.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const drive = (id: string, rest: string): string => `kind: drive\nid: ${id}\nfamily: tern-2\n${rest}`;

const bench = {
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
  'drives/wanted.yaml': drive('d-0117', 'data: wanted\n'),
  'drives/unsaid.yaml': drive('d-0118', ''),
  'drives/test.yaml': drive('d-0119', 'data: test\n'),
  'drives/burnt.yaml': drive(
    'd-0120',
    'data: none\nexamined: [{on: 2026-03-01, parts_burnt: true, motor_windings: ok}]\n',
  ),
  'drives/measured.yaml': drive(
    'd-0121',
    'data: none\nexamined: [{on: 2026-03-01, supply_5v: shorted, motor_windings: ok, head_lines: ok}]\n',
  ),
};

/** The cautions before a question, where all before it are answered so and the rest is not known. */
function cautionsAt(name: string, given: Answers, kind: RecordedKind = 'outcome', config = 'swaplore: 1\n'): string {
  const recording = {
    kind,
    snapshot: snapshotOf({ 'swaplore.yaml': config, ...bench }),
    today: dayOf(2026, 3, 14) ?? 0,
  };
  const names = questionNames(kind);
  const before = names.slice(0, names.indexOf(name));
  const answers = Object.fromEntries(
    before.map((one) => [one, Object.hasOwn(given, one) ? (given[one] ?? null) : null]),
  );
  const { question } = askNext(recording, answers);
  expect(question?.name).toBe(name);
  return (question?.cautions ?? []).join(' ');
}

// Every caution here is common practice, no source.
describe('cautions of a recording', () => {
  it.each(['d-0117', 'd-0118'])(
    'data that is wanted, or of which nobody has spoken, belongs in a lab: %s',
    (patient) => {
      expect(cautionsAt('donor', { patient })).toContain(`If the data on \`${patient}\` matters to anyone, stop`);
      expect(cautionsAt('donor', { patient })).toContain('outside a clean bench');
    },
  );

  it('of test data nothing is said', () => {
    expect(cautionsAt('donor', { patient: 'd-0119' })).toBe('');
  });

  it('a burnt board is measured first, unless windings and head lines were found good', () => {
    expect(cautionsAt('donor', { patient: 'd-0120' })).toContain('Measure first');
    expect(cautionsAt('donor', { patient: 'd-0121' })).toBe('');
  });

  it('power is off and hands are grounded before a board is touched', () => {
    expect(cautionsAt('controls.donor_on_own_board', {})).toMatch(/^Disconnect power .* ground yourself\.$/);
  });

  it('what clicks or beeps is not kept powered', () => {
    expect(cautionsAt('controls.patient_on_own_board', {})).toContain('a grinding one not at all');
  });

  it("wanted data is never tried with the donor's own ROM first", () => {
    expect(cautionsAt('rom', { patient: 'd-0117' })).toContain('never try the donor');
    expect(cautionsAt('rom', { patient: 'd-0119' })).not.toContain('never try the donor');
  });

  it('the ROM is read twice, its voltage checked, and all is kept', () => {
    expect(cautionsAt('rom', { patient: 'd-0119' })).toMatch(/Read the ROM twice .*1\.8 V or 3\.3 V.*both images/);
  });

  it.each([
    ['clicking', 'for longer than 0.5 min'],
    ['beeping', 'for longer than 0.5 min'],
    ['grinding', 'not to be powered at all'],
  ])('a %s drive is left without power', (sound, says) => {
    expect(cautionsAt('observed.powered_minutes', { 'observed.sound': sound })).toContain(says);
    expect(cautionsAt('observed.powered_minutes', { 'observed.sound': 'normal' })).toBe('');
  });

  it("the base's own limit is the one that is named", () => {
    const config = 'swaplore: 1\nkept_powered_minutes: 2\n';
    expect(cautionsAt('observed.powered_minutes', { 'observed.sound': 'clicking' }, 'outcome', config)).toContain(
      '2 min',
    );
  });

  it('offers to write are refused where data is wanted', () => {
    expect(cautionsAt('observed.detected', { patient: 'd-0117' })).toContain('refuse every offer to initialise');
    expect(cautionsAt('observed.detected', { patient: 'd-0119' })).toBe('');
  });

  it('nothing that writes is run on wanted data', () => {
    const reads = { 'observed.detected': true, 'observed.reads': true };
    expect(cautionsAt('verify.0.method', { patient: 'd-0118', ...reads })).toContain('Never run a writing test');
    expect(cautionsAt('verify.0.method', { patient: 'd-0119', ...reads })).toBe('');
  });

  it('serial numbers stay masked, where the base has it so', () => {
    expect(cautionsAt('serial', {}, 'drive')).toContain('write `****` and the last four characters');
    expect(cautionsAt('serial', {}, 'drive', 'swaplore: 1\nserials: full\n')).toBe('');
  });
});
