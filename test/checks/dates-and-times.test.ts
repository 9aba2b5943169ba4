import { describe, expect, it } from 'vitest';
import { dateCodeInvalid } from '../../server/src/core/checks/date-code-invalid.ts';
import { dateInFuture } from '../../server/src/core/checks/date-in-future.ts';
import { hoursExceedAge } from '../../server/src/core/checks/hours-exceed-age.ts';
import { madeAfterUse } from '../../server/src/core/checks/made-after-use.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { lintFiles } from '../harness/lint-files.ts';
import { firing, messagesOf, swapBase } from '../harness/swap-base.ts';

describe('date-in-future', () => {
  const day = (text: string): number => parseDate(text) ?? 0;

  it('looks at every date of every record', async () => {
    const files = swapBase({
      maker: 'sources: [{title: Price list, seen: 2027-01-02}]',
      family: 'retracted: {on: 2027-01-03, because: two in one}',
      patient: 'made: 2027-W02\nexamined: [{on: 2027-01-04}]\ncondition: {as_of: 2027-01-05}',
      date: '2026-12-31',
    });
    const found = await lintFiles(files, { checks: [dateInFuture] });
    expect(found.map(({ file, message }) => `${file}: ${message.split(',')[0]}`)).toEqual([
      'drives/a.yaml: `on` is `2027-01-04`',
      'drives/a.yaml: `as_of` is `2027-01-05`',
      'families/tern.yaml: `on` is `2027-01-03`',
      'makers/wren.yaml: `seen` is `2027-01-02`',
      'outcomes/one.yaml: `date` is `2026-12-31`',
    ]);
  });

  it.each([
    ['2026-03-12', 1],
    ['2026-03-13', 0],
    ['2026-03-14', 0],
  ])('on %s an outcome of 2026-03-14 gives %i', async (today, count) => {
    const found = await lintFiles(swapBase({}), { checks: [dateInFuture], today: day(today) });
    expect(found).toHaveLength(count);
  });

  it.each([
    ['made: 2026-W49', 1],
    ['made: 2026-W48', 0],
    ['made: 2026-12', 1],
    ['made: 2026-11', 0],
    ['made: 2026-11-27', 1],
  ])('takes the first day of %s', async (donor, count) => {
    const files = swapBase({ donor });
    delete files['outcomes/one.yaml'];
    expect(await lintFiles(files, { checks: [dateInFuture] })).toHaveLength(count);
  });

  it('leaves a date of manufacture to the check that needs no calendar', async () => {
    expect(await firing({ patient: 'made: 2062-W31' })).toEqual(['made-after-use']);
    expect(await firing({ patient: 'made: 2062-W31', family: 'made: {to: 2014}', date: '2063-01-01' })).toEqual([
      'date-in-future',
      'made-outside-family',
    ]);
  });

  it('leaves the bounds of ranges alone', async () => {
    const rule =
      'kind: rule\nid: r\nclaim: needs\nwhen: {donor: {made: {to: 2031-05}}}\napplies_to: {made: {to: 2031}}\n';
    const maker = 'date_code: [{scheme: iso_week, format: YYWW, to: 2031-W01}]';
    expect(await messagesOf(dateInFuture, { maker, files: { 'rules/r.yaml': rule } })).toEqual([]);
  });
});

describe('made-after-use', () => {
  it('names both drives in one finding', async () => {
    expect(
      await messagesOf(madeAfterUse, { date: '2006-03-14', patient: 'made: 2012-W31', donor: 'made: 2012-08-03' }),
    ).toEqual([
      'Outcome `one` is dated `2006-03-14`, but patient `d-0117` was made `2012-W31` and donor `d-0118` was made `2012-08-03`.',
    ]);
  });

  it.each([
    ['made: 2026-03', 0],
    ['made: 2026-03-14', 0],
    ['made: 2026-03-15', 1],
    ['made: 2026-W11', 0],
    ['made: 2026-W12', 1],
    ['made: 2026-13', 0],
  ])('%s: %i', async (donor, count) => {
    expect(await messagesOf(madeAfterUse, { donor })).toHaveLength(count);
  });
});

describe('date-code-invalid', () => {
  const week = '{scheme: iso_week, format: YYWW}';
  const fiscal = '{scheme: fiscal_week, format: YYWW, fiscal_year_starts: "07-01"}';

  it.each([
    ['the right week', week, '2012-W31', '1231', 0],
    ['the next week', week, '2012-W32', '1231', 1],
    ['a month that holds it', week, '2012-08', '1231', 0],
    ['a fiscal week', fiscal, '2012-W31', '1305', 0],
    ['a fiscal week, one off', fiscal, '2012-W32', '1305', 0],
    ['a fiscal week, two off', fiscal, '2012-W33', '1305', 1],
    ['a fiscal week read as a calendar one', fiscal, '2013-W05', '1305', 1],
    ['either of two schemes', `${week}, ${fiscal}`, '2012-W31', '1305', 0],
    ['neither of two schemes', `${week}, ${fiscal}`, '2010-W31', '1305', 1],
    ['another form', week, '2012-W31', '12-31', 1],
    ['another form, but a scheme that is not complete', `${week}, {scheme: calendar}`, '2012-W31', '12-31', 0],
    ['another week, but a scheme that is not complete', `${week}, {format: YYWW}`, '2012-W40', '1231', 0],
    ['the scheme in use at the time', `{scheme: iso_week, format: YYWW, to: 2010}, ${fiscal}`, '2013-W05', '1305', 1],
    [
      'a scheme out of use, where no other reads it',
      '{scheme: iso_week, format: YYWW, to: 2010}',
      '2012-W31',
      '1231',
      0,
    ],
  ])('%s', async (_, schemes, made, code, count) => {
    const parts = { maker: `date_code: [${schemes}]`, patient: `made: ${made}\ndate_code: "${code}"` };
    expect(await messagesOf(dateCodeInvalid, parts)).toHaveLength(count);
  });

  it('says which forms the maker prints', async () => {
    const maker = `date_code: [${week}, {scheme: calendar, format: DD.MM.YYYY}]`;
    expect(await messagesOf(dateCodeInvalid, { maker, patient: 'date_code: "2012/31"' })).toEqual([
      'Date code `2012/31` does not have the form `YYWW` or `DD.MM.YYYY` that maker `wren` prints.',
    ]);
  });

  it('needs a maker whose schemes can be read', async () => {
    expect(await messagesOf(dateCodeInvalid, { patient: 'date_code: "99"' })).toEqual([]);
    expect(await messagesOf(dateCodeInvalid, { patient: 'date_code: "99"', maker: 'date_code: [YYWW]' })).toEqual([]);
  });

  it('speaks for all that follows from a wrong `made`', async () => {
    const parts = { maker: `date_code: [${week}]`, family: 'made: {to: 2014}', date: '2020-03-14' };
    expect(await firing({ ...parts, patient: 'made: 2021-W31\ndate_code: "1231"' })).toEqual(['date-code-invalid']);
    expect(await firing({ ...parts, patient: 'made: 2021-W31\ndate_code: "2131"' })).toEqual([
      'made-after-use',
      'made-outside-family',
    ]);
  });
});

describe('hours-exceed-age', () => {
  const made = { patient: 'made: 2026-W10', donor: 'made: 2026-03-01' };
  const hours = (text: string): { outcome: string } => ({ outcome: `identity: [{value: power_on_hours, ${text}}]` });

  it.each([
    // 2026-03-02 to 2026-03-14 are 13 days, and one more for the donor.
    ['patient_before: 312', 0],
    ['patient_before: 313', 1],
    ['donor_before: 336', 0],
    ['donor_before: 337', 1],
    ['after: 336', 0],
    ['after: 337', 1],
    ['other_after: 337', 1],
    ['patient_before: 9000, after: 9001', 1],
    ['patient_before: 9000, donor_before: 9999, after: 9001', 2],
    ['patient_before: 9000, after: 9000', 1],
  ])('%s: %i', async (text, count) => {
    expect(await messagesOf(hoursExceedAge, { ...made, ...hours(text) })).toHaveLength(count);
  });

  it('needs the date of manufacture of every drive that may have counted', async () => {
    expect(await messagesOf(hoursExceedAge, { donor: made.donor, ...hours('patient_before: 99999') })).toEqual([]);
    expect(await messagesOf(hoursExceedAge, { donor: made.donor, ...hours('after: 99999') })).toEqual([]);
  });

  it("holds a drive's own hours against today", async () => {
    // 2026-11-01 to 2026-11-25 are 25 days.
    expect(await messagesOf(hoursExceedAge, { patient: 'made: 2026-11\npower_on_hours: 600' })).toEqual([]);
    const parts = { patient: 'made: 2026-11\npower_on_hours: 1200', date: '2026-11-20' };
    const message =
      'Drive `d-0117` reports `1200` hours, more than the 600 from 2026-11-01 to 2026-11-25; taken as minutes it is 20 hours.';
    expect(await messagesOf(hoursExceedAge, parts)).toEqual([message]);
    // The same number in a row is the same fault.
    expect(await messagesOf(hoursExceedAge, { ...parts, ...hours('patient_before: 1200') })).toEqual([message]);
  });

  it('is silent where the drive was made after its use', async () => {
    const parts = { ...hours('patient_before: 5'), patient: 'made: 2026-04' };
    expect(await firing(parts)).toEqual(['made-after-use']);
  });
});
