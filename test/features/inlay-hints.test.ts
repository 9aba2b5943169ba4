import { expect, it } from 'vitest';
import { type InlayHint, inlayHints } from '../../server/src/core/features/inlay-hints.ts';
import { openEach } from '../harness/open-at.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

/** The lines of a file of a base that have hints, each hint between « and ». */
function hinted(path: string, files: Readonly<Record<string, string>>): string[] {
  const { text, hints } = hintsIn(path, files);
  const marked = hints.reduceRight(
    (left, { offset, text: hint }) => `${left.slice(0, offset)}«${hint}»${left.slice(offset)}`,
    text,
  );
  return marked.split('\n').filter((line) => line.includes('«'));
}

function hintsIn(path: string, files: Readonly<Record<string, string>>): { text: string; hints: readonly InlayHint[] } {
  const file = openEach(files).find((one) => one.path === path)!;
  const { text } = file.tape;
  return { text, hints: inlayHints(file, { start: 0, end: text.length }, { verdicts: true, decoded: true }) };
}

const patientHints = (parts: SwapBase): string[] => hinted('drives/a.yaml', swapBase(parts));
const outcomeHints = (parts: SwapBase): string[] => hinted('outcomes/one.yaml', swapBase(parts));

it('shows the verdict where the result is another one', () => {
  expect(outcomeHints({ outcome: 'rom: left', result: 'fails' })).toEqual(['result: fails«verdict: works»']);
  const controls = 'rom: left\ncontrols: {swapped_back: both_work}';
  expect(outcomeHints({ outcome: controls, reached: 'spins', result: 'works' })).toEqual([
    'result: works«verdict: fails»',
  ]);
});

it('is quiet where the result says it', () => {
  expect(outcomeHints({ outcome: 'rom: left' })).toEqual([]);
  const controls = 'rom: left\ncontrols: {swapped_back: both_work}';
  expect(outcomeHints({ outcome: controls, reached: 'spins', result: 'fails' })).toEqual([]);
});

it('shows the verdict beside what was reached where there is no result', () => {
  const files = swapBase({ outcome: 'rom: left' });
  const { 'outcomes/one.yaml': text = '' } = files;
  for (const absent of ['', 'result:\n']) {
    const path = 'outcomes/one.yaml';
    expect(hinted(path, { ...files, [path]: text.replace('result: works\n', absent) })).toEqual([
      'reached: reads«verdict: works»',
    ]);
  }
});

it('says in short what an inconclusive outcome lacks, and in the detail at length', () => {
  const parts = { outcome: 'rom: chip_moved\ncontrols: {patient_on_own_board: works}', reached: 'spins' };
  expect(outcomeHints({ ...parts, result: 'inconclusive' })).toEqual(['result: inconclusive«unproved: donor, ROM»']);
  expect(outcomeHints({ ...parts, result: 'fails' })).toEqual([
    'result: fails«verdict: inconclusive (unproved: donor, ROM)»',
  ]);
  const { hints } = hintsIn('outcomes/one.yaml', swapBase({ ...parts, result: 'inconclusive' }));
  expect(hints.map(({ detail }) => detail)).toEqual([
    "It reached `spins`, below the `reads` this base counts as working. A failure counts only with every control in place: nothing shows the donor's board good at `reads` on its own drive; nothing shows that the ROM data really arrived.",
  ]);
});

it('says that a drive was damaged on the way', () => {
  const outcome =
    'rom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: works, swapped_back: both_fail}';
  expect(outcomeHints({ outcome, reached: 'spins', result: 'inconclusive' })).toEqual([
    'result: inconclusive«damaged on the way»',
  ]);
});

it('leaves a swap alone of which a drive is not recorded, and one that was retracted', () => {
  const { 'drives/b.yaml': _, ...files } = swapBase({ outcome: 'rom: left', result: 'fails' });
  expect(hinted('outcomes/one.yaml', files)).toEqual([]);
  const outcome = 'rom: left\nretracted: {on: 2026-03-15, because: the wrong patient}';
  expect(outcomeHints({ outcome, result: 'fails' })).toEqual([]);
});

it('shows after the last check of the content how much of the patient was compared', () => {
  const rows = `rom: left
verify:
  - {method: read_pass, bytes: 1000000000000}
  - {method: hash_compare, bytes: 24990000000, errors: 0, where: files}`;
  const parts = { patient: 'capacity_gb: 1000', outcome: rows };
  expect(outcomeHints(parts)).toEqual([
    '  - {method: hash_compare, bytes: 24990000000, errors: 0, where: files}«2.4 % compared»',
  ]);
  const { hints } = hintsIn('outcomes/one.yaml', swapBase({ ...parts, config: 'verified_share: 0.025' }));
  expect(hints.map(({ detail }) => detail)).toEqual([
    "Rows that compare content cover 2.4 % of the patient's 1 TB, each pass counted once. This base asks for 2.5 %, so it is not enough for `verified`; 10,000,000 bytes more would be.",
  ]);
});

it('says where nothing compared content', () => {
  const outcome = 'rom: left\nverify:\n  - method: read_pass\n    bytes: 1000\n';
  expect(outcomeHints({ outcome })).toEqual(['    bytes: 1000«no content compared»']);
});

// Source of the weeks: ISO 8601 week dates; 2012-07-30 is the Monday of week 31 of 2012 (from memory).
it('decodes a date code by the schemes of the maker', () => {
  const iso = 'date_code: [{scheme: iso_week, format: YYWW}]';
  expect(patientHints({ maker: iso, patient: 'date_code: "1231"' })).toEqual(['date_code: "1231"«2012-W31»']);
  const fiscal = 'date_code: [{scheme: fiscal_week, format: YYWW, fiscal_year_starts: "07-01"}]';
  expect(patientHints({ maker: fiscal, patient: 'date_code: "1305"' })).toEqual(['date_code: "1305"«2012-W29 to W32»']);
  const calendar = 'date_code: [{scheme: calendar, format: YYYYMMDD}, {scheme: calendar, format: YYYYDDMM}]';
  expect(patientHints({ maker: calendar, patient: 'date_code: "20120803"' })).toEqual([
    'date_code: "20120803"«2012-08-03 or 2012-03-08»',
  ]);
  // Printed as dates are recorded anyway.
  const plain = 'date_code: [{scheme: calendar, format: YYYY-MM-DD}]';
  expect(patientHints({ maker: plain, patient: 'date_code: "2012-08-03"' })).toEqual([]);
});

it('does not decode a date code that the date of manufacture decodes already', () => {
  const maker = 'date_code: [{scheme: iso_week, format: YYWW}]';
  expect(patientHints({ maker, patient: 'made: 2012-W31\ndate_code: "1231"' })).toEqual([]);
  expect(patientHints({ maker, patient: 'made: 2012-08-01\ndate_code: "1231"' })).toEqual([]);
  // A month leaves more open than the code.
  expect(patientHints({ maker, patient: 'made: 2012-08\ndate_code: "1232"' })).toEqual(['date_code: "1232"«2012-W32»']);
});

// Source: IDEMA LBA1-03: 1,953,525,168 sectors of 512 bytes, or 244,190,646 of 4,096, make 1,000 GB.
it('turns sectors into the size they are sold as', () => {
  const sectors = (bytes: number): string => `sector_bytes: {logical: ${bytes}}`;
  expect(patientHints({ family: sectors(512), patient: 'lba_count: 1953525168' })).toEqual([
    'lba_count: 1953525168«1 TB»',
  ]);
  expect(patientHints({ family: sectors(4096), patient: 'lba_count: 244190646' })).toEqual([
    'lba_count: 244190646«1 TB»',
  ]);
  expect(patientHints({ family: sectors(512), patient: 'lba_count: 585937500' })).toEqual([
    'lba_count: 585937500«300 GB»',
  ]);
});

it('gives no size that stands there, or that nobody can tell', () => {
  const family = 'sector_bytes: {logical: 512}';
  expect(patientHints({ family, patient: 'capacity_gb: 1000\nlba_count: 1953525168' })).toEqual([]);
  expect(patientHints({ patient: 'lba_count: 1953525168' })).toEqual([]);
  // Off by a factor of eight: worth showing, whatever else is said of it.
  expect(patientHints({ family, patient: 'capacity_gb: 1000\nlba_count: 244190646' })).toEqual([
    'lba_count: 244190646«125.03 GB»',
  ]);
});

it('says whose prefix a world-wide name has', () => {
  const maker = 'ouis: [00-00-5E]';
  expect(patientHints({ maker, patient: 'wwn: "5 00005e 004c1d93e"' })).toEqual(['wwn: "5 00005e 004c1d93e"«wren»']);
  expect(patientHints({ maker, patient: 'wwn: "500a5170004c1d93"' })).toEqual([]);
});

it('says in an outcome whose a name is that neither drive has, once', () => {
  const patient = 'wwn: "500005e0004c1d93"';
  const outcome =
    'rom: left\nidentity:\n  - {value: wwn, patient_before: "500005E0004C1D93", after: "50000AB000000001", other_after: "50000AB000000001"}';
  const files = { 'makers/skua.yaml': 'kind: maker\nid: skua\nname: Skua\nouis: [00-00-AB]\n' };
  expect(outcomeHints({ maker: 'ouis: [00-00-5E]', patient, outcome, files })).toEqual([
    '  - {value: wwn, patient_before: "500005E0004C1D93", after: "50000AB000000001"«skua», other_after: "50000AB000000001"}',
  ]);
});

it('says which revisions a revision works in place of, step by step', () => {
  const files = {
    'boards/w100.yaml': `kind: board
id: w100
maker: wren
part_number: W100
revisions:
  - {rev: A}
  - {rev: B, drop_in_for: [A]}
  - {rev: C, drop_in_for: [B]}
`,
  };
  expect(patientHints({ patient: 'board: {id: w100, rev: c}', files })).toEqual([
    'board: {id: w100, rev: c«drop-in for B, A»}',
  ]);
  expect(patientHints({ patient: 'board: {id: w100, rev: A}', files })).toEqual([]);
});
