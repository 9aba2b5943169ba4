import { expect, it } from 'vitest';
import { highlightsAt } from '../../server/src/core/features/highlights.ts';
import { openAt } from '../harness/open-at.ts';

/** The text of the open file with what is marked between brackets: `[…]` for a reference, `[=…]` for a declaration. */
function highlighted(marked: string): string {
  const { file, offset } = openAt({ 'a.yaml': marked });
  let { text } = file.tape;
  for (const { start, end, isDeclaration } of [...highlightsAt(file, offset)].reverse()) {
    text = `${text.slice(0, start)}[${isDeclaration ? '=' : ''}${text.slice(start, end)}]${text.slice(end)}`;
  }
  return text;
}

it('marks the declaration and the references of the file', () => {
  expect(
    highlighted('kind: drive\nid: d-1\n---\nkind: outcome\npatient: $0d-1\ndonor: d-2\nrom_from: d-1\nsite: d-1\n'),
  ).toBe('kind: drive\nid: [=d-1]\n---\nkind: outcome\npatient: [d-1]\ndonor: d-2\nrom_from: [d-1]\nsite: d-1\n');
});

it('marks the part of BOARD/REV that is meant', () => {
  const text = (patient: string) => `kind: rule\nwhen: {patient: {board: nb, rev: ${patient}}, donor: {rev: nb/B2}}\n`;
  expect(highlighted(text('n$0b/A1'))).toBe(
    'kind: rule\nwhen: {patient: {board: [nb], rev: [nb]/A1}, donor: {rev: [nb]/B2}}\n',
  );
  expect(highlighted(text('nb/$0B2'))).toBe(
    'kind: rule\nwhen: {patient: {board: nb, rev: nb/[B2]}, donor: {rev: nb/[B2]}}\n',
  );
});

it('marks nothing where nothing is named', () => {
  expect(highlighted('kind: outcome\npati$0ent: d-1\n')).toBe('kind: outcome\npatient: d-1\n');
});
