import { expect, it } from 'vitest';
import { nextTrialDocument } from '../../server/src/core/reports/next-trial.ts';
import { renderText } from '../../server/src/core/reports/render-text.ts';
import { nextTrial } from '../../server/src/core/trials/next-trial.ts';
import { snapshotOf, type Texts } from '../harness/snapshot-of.ts';

function drive(id: string, lines: string): string {
  return `kind: drive\nid: ${id}\nfamily: tern\n${lines}condition: {board: good, media: good, as_of: 2026-03-20}\ndata: none\nshelf: {spare: true}\n`;
}

function outcome(id: string, patient: string, donor: string, reached: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nrom: left\ncontrols: {patient_on_own_board: works, donor_on_own_board: works, swapped_back: both_work}\nreached: ${reached}\n`;
}

const families = ['tern', 'gull']
  .map((id) => `kind: family\nid: ${id}\nmaker: wren\nname: ${id}\nadaptives: {stored_in: platters}\n`)
  .join('---\n');

function textOf(texts: Texts): string {
  const snapshot = snapshotOf({ 'families.yaml': families, ...texts });
  const style = { width: 1000, strong: (text: string) => text };
  return renderText(nextTrialDocument(nextTrial('tern', snapshot), snapshot), style);
}

it('says which pair to look for where no swap of the shelf tells two explanations apart', () => {
  // Whatever has the firmware of another also comes from its site, on the shelf and so far.
  const text = textOf({
    'drives.yaml': [
      drive('d-1', 'firmware: F1\nsite: X\n'),
      drive('d-2', 'firmware: F1\nsite: X\n'),
      drive('d-3', 'firmware: F2\nsite: Y\n'),
      drive('d-4', 'firmware: F2\nsite: Y\n'),
    ].join('---\n'),
    'outcomes.yaml': [outcome('o-1', 'd-1', 'd-2', 'reads'), outcome('o-2', 'd-1', 'd-3', 'spins')].join('---\n'),
  });
  expect(text).toContain('The same, as far as the shelf can tell: works where `same: [site]`.');
  expect(text).toContain('Works where `same: [firmware]`, or works where `same: [site]`?');
  expect(text).toContain('Look for two drives with the same `firmware` and a different `site`.');
});

it('says that nothing is left where all was tried, and not where nothing could be', () => {
  const [one, other] = [drive('d-1', ''), drive('d-2', '')];
  const tried = { 'outcomes.yaml': outcome('o-1', 'd-1', 'd-2', 'reads') };
  expect(textOf({ ...tried, 'drives.yaml': `${one}---\n${other}` })).toContain('Nothing is left to try');
  expect(textOf({ ...tried, 'drives.yaml': `${one}---\n${drive('d-3', '')}` })).not.toContain('Nothing');
  expect(textOf({ 'drives.yaml': one })).toContain('Nothing can be tried');
  // Boards of another family alone have no patient.
  const foreign = ['d-1', 'd-2'].map((id) => drive(id, 'board: {id: k-10}\n').replace('tern', 'gull'));
  const board = 'kind: board\nid: k-10\nmaker: wren\npart_number: "10"\nfamilies: [tern, gull]\n';
  const text = textOf({ 'drives.yaml': foreign.join('---\n'), 'board.yaml': board });
  expect(text).toContain('Nothing can be tried');
  expect(text).toContain('Fit for trials: no drive of the family, and 2 of others with one of its boards.');
});
