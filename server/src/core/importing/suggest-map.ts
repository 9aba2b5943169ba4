/**
 * A map to begin with.
 * Laws (test/property/importing.property.test.ts):
 * - a proposed map fits the table it was proposed for
 */
import type { MappingTableData } from '../../../../schemas/gen/records.ts';
import { lineScalar } from '../edits/write-scalar.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { pathOf } from '../recording/answers.ts';
import { findKeyRow, keyRowsIn } from '../schema/key-rows.ts';
import { cutText } from '../text/cut-text.ts';
import { visible } from '../text/visible.ts';
import { blankTexts, cellsThatSay, guessDates, guessDecimal, guessValues } from './guess-column.ts';
import { numberWords, type Role } from './heading-words.ts';
import { type MatchedHeading, matchHeadings } from './match-headings.ts';
import { slugOf } from './slug.ts';
import type { Table } from './table.ts';

/** What a map is proposed for. */
export interface SuggestionRequest {
  readonly table: Table;
  /** How the table had to be read. */
  readonly settings: MappingTableData;
  readonly snapshot: Snapshot;
}

/** The text of a map that is proposed for a table. What was not sure is marked with a question mark in a comment. */
export function suggestMap(request: SuggestionRequest): string {
  return new Suggestion(request).text();
}

/** A record of each row that is proposed. */
interface Proposed {
  readonly name: 'drive' | Role | 'outcome';
  readonly kind: 'drive' | 'outcome';
  /** Column that numbers it. */
  readonly number: number | undefined;
  readonly fields: readonly Matched[];
}

type Matched = MatchedHeading & { readonly key: string };

/** Texts of one column that are asked about; more would hide the rest of the map. */
const mostAsked = 12;

/** Cells of a column that are shown because they fit nothing. */
const mostShown = 3;

class Suggestion {
  private readonly matched: readonly MatchedHeading[];
  private readonly columns: readonly (readonly string[])[];

  private readonly table: Table;
  private readonly settings: MappingTableData;
  private readonly snapshot: Snapshot;

  constructor({ table, settings, snapshot }: SuggestionRequest) {
    this.table = table;
    this.settings = settings;
    this.snapshot = snapshot;
    const { headings, rows } = table;
    this.matched = matchHeadings(headings, snapshot).filter(({ column, means }) =>
      means === 'number' ? this.canMakeIds(headings[column] ?? '') : this.isAlone(headings[column] ?? ''),
    );
    this.columns = headings.map((_, column) => rows.map(({ cells }) => cells[column] ?? ''));
  }

  text(): string {
    const records = this.records();
    const lines = [
      '# Proposed from the headings of the table and what stands below them. Read it',
      '# through: what was not sure is marked with "?". Then try it with --dry-run.',
      '# swaplore key mapping.records.fields lists what a field may say.',
      'mapping: 1',
      ...this.tableLines(),
      'records:',
      ...records.flatMap((record) => this.recordLines(record, records)),
      ...this.unusedLines(records),
    ];
    return `${lines.join('\n')}\n`;
  }

  private records(): readonly Proposed[] {
    const isOutcome = ({ means }: MatchedHeading): boolean => means !== 'number' && means.kind === 'outcome';
    const hasDonor = this.matched.some(({ role }) => role === 'donor');
    const outcome = this.matched.filter((one) => isOutcome(one) && one.role === undefined);
    // Notes alone make no outcome of a list of drives.
    const isSwaps =
      hasDonor || outcome.some(({ means }) => means !== 'number' && ['reached', 'result'].includes(means.key));
    if (!isSwaps)
      return [
        this.proposed(
          'drive',
          this.matched.filter(({ role }) => role !== 'donor'),
        ),
      ];
    const ofPatient = this.matched.filter(
      (one) => one.role === 'patient' || (one.role === undefined && !isOutcome(one)),
    );
    return [
      this.proposed('patient', ofPatient),
      this.proposed(
        'donor',
        this.matched.filter(({ role }) => role === 'donor'),
      ),
      { ...this.proposed('outcome', outcome), number: undefined },
    ];
  }

  private proposed(name: Proposed['name'], matched: readonly MatchedHeading[]): Proposed {
    const kind = name === 'outcome' ? 'outcome' : 'drive';
    const fields: Matched[] = [];
    for (const one of matched) {
      const { means } = one;
      // Notes of a list of drives are theirs.
      if (means === 'number' || (means.kind !== kind && !findKeyRow(kind, pathOf(means.key)))) continue;
      if (!fields.some(({ key }) => key === means.key)) fields.push({ ...one, key: means.key });
    }
    return { name, kind, number: matched.find(({ means }) => means === 'number')?.column, fields };
  }

  private tableLines(): readonly string[] {
    const blank = [...new Set(this.columns.flatMap(blankTexts))];
    const numbers = this.matched.flatMap((one) =>
      this.isNumber(one) ? cellsThatSay(this.columns[one.column] ?? []) : [],
    );
    const decimal = guessDecimal(numbers);
    const said = Object.entries(this.settings).map(([key, value]) => `  ${key}: ${value}`);
    if (blank.length === 0 && decimal === undefined && said.length === 0) return [];
    return [
      'table:',
      ...said,
      ...(blank.length > 0 ? [`  blank: ${flowList(blank)}`] : []),
      ...(decimal === undefined ? [] : [`  decimal: ${decimal}`]),
    ];
  }

  private isNumber({ means }: MatchedHeading): boolean {
    const type = means === 'number' ? undefined : findKeyRow(means.kind, pathOf(means.key))?.type;
    return type === 'number' || type === 'integer';
  }

  private recordLines(record: Proposed, all: readonly Proposed[]): readonly string[] {
    const { name, kind, number, fields } = record;
    const drives = all.filter((other) => other.kind === 'drive');
    const pair = kind === 'outcome' ? drives.map(({ name: role }) => `      - { key: ${role}, record: ${role} }`) : [];
    const lines = [...pair, ...fields.flatMap((field) => this.fieldLines(kind, field))];
    const when = number === undefined || kind === 'outcome' ? this.whenOf(record, drives) : number;
    return [
      `  - name: ${name}`,
      `    kind: ${kind}`,
      ...this.idLines(record),
      ...(when === undefined ? [] : [`    when: ${this.heading(when)}`]),
      '    fields:',
      ...lines,
      ...this.missingLines(record),
      ...(lines.length === 0 ? ['      []'] : []),
    ];
  }

  /** An outcome takes both drives; a record without a number is made of every row. */
  private whenOf({ kind }: Proposed, drives: readonly Proposed[]): number | undefined {
    return kind === 'outcome' ? drives.find(({ name }) => name === 'donor')?.number : undefined;
  }

  private idLines({ name, kind, number, fields }: Proposed): readonly string[] {
    if (kind === 'outcome') {
      const hasDate = fields.some(({ key }) => key === 'date');
      return hasDate
        ? ['    id: "{date}-{patient}-{donor}"']
        : ['    # ? Two swaps of one pair need more than this.', '    id: "{patient}-{donor}"'];
    }
    if (number !== undefined) return [this.numbered(number)];
    // Serial numbers belong to customers.
    const serial = fields.find(({ key }) => key === 'serial')?.column;
    const usable = [...this.table.headings.entries()].filter(
      ([column, heading]) => this.canMakeIds(heading) && column !== serial,
    );
    const [best] = usable.find(([, heading]) => this.isNumbering(heading)) ?? usable[0] ?? [];
    return [
      `    # ? No column numbers the ${name}; what stands here has to tell each from all others.`,
      this.numbered(best),
    ];
  }

  /** An id made of a column, or of nothing that is known; in front of numbers stands what says that they are drives'. */
  private numbered(column: number | undefined): string {
    const cells = cellsThatSay(this.columns[column ?? -1] ?? []);
    const areIds = cells.length > 0 && cells.every((cell) => /^d-/i.test(cell));
    const heading = this.table.headings[column ?? -1] ?? '';
    return `    id: ${lineScalar(`${areIds ? '' : 'd-'}{${heading}}`, 'double', false)}`;
  }

  /** Whether a heading that is not understood as a whole speaks of numbers. */
  private isNumbering(heading: string): boolean {
    const isUnderstood = this.matched.some(({ column }) => this.table.headings[column] === heading);
    const words = slugOf(heading).split('-');
    return !isUnderstood && words.some((word) => numberWords.includes(word));
  }

  /** Whether a heading names one column. */
  private isAlone(heading: string): boolean {
    return heading !== '' && this.table.headings.filter((other) => other === heading).length === 1;
  }

  /** Whether a heading can stand between the braces of a template. */
  private canMakeIds(heading: string): boolean {
    return this.isAlone(heading) && !/[{}]|:\d{1,2}$/.test(heading);
  }

  private fieldLines(kind: Proposed['kind'], field: Matched): readonly string[] {
    const { key, column, isSure, unit } = field;
    const row = findKeyRow(kind, pathOf(key));
    if (!row) return [];
    const cells = cellsThatSay(this.columns[column] ?? []);
    const asked = isSure ? [] : [`The heading is only near \`${key}\`.`];
    const parts = [`key: ${key}`, `column: ${this.heading(column)}`];
    if (unit !== undefined) parts.push(`unit: ${lineScalar(unit, 'plain', true)}`);
    if (row.format !== undefined && cells.length > 0) {
      const { forms, unread, areUnsure } = guessDates(cells, row);
      if (forms.length > 0) parts.push(`dates: ${flowList(forms)}`);
      if (areUnsure) asked.push('Keep the forms that are meant: what two of them read differently is refused.');
      if (unread.length > 0) asked.push(`No date: ${unread.slice(0, mostShown).map(shown).join(', ')}`);
    }
    const comments = asked.map((text) => `      # ? ${text}`);
    const values = guessValues(row, cells);
    if (values.length === 0) return [...comments, `      - { ${parts.join(', ')} }`];
    const [first, ...rest] = parts;
    return [
      ...comments,
      `      - ${first}`,
      ...rest.map((part) => `        ${part}`),
      '        values:',
      ...values.slice(0, mostAsked).map(({ text, value, isSure: isKnown }) => {
        if (value === undefined) return `          # ${shown(text)}: ? one of ${choices(row.values)}`;
        return `          ${lineScalar(text, 'double', false)}: ${value}${isKnown ? '' : ' # ?'}`;
      }),
      ...(values.length > mostAsked
        ? [`          # ? ${values.length - mostAsked} more texts are no value of \`${key}\`.`]
        : []),
    ];
  }

  /** What such a record cannot do without and no column gives. */
  private missingLines({ kind, fields, name }: Proposed): readonly string[] {
    const given = new Set(fields.map(({ key }) => key));
    const own = new Set(['kind', 'id', 'patient', 'donor']);
    return keyRowsIn(kind, []).flatMap((row) => {
      if (!row.required || own.has(row.name) || given.has(row.name)) return [];
      const needs = `      # ? No column says \`${row.name}\`, which ${name === 'outcome' ? 'an outcome' : 'a drive'} needs.`;
      if (row.refersTo !== 'family') return [needs];
      const [only, another] = this.snapshot.records('family');
      const family = only && !another ? only.id : String(row.examples[0]);
      return [`${needs} For all rows alike:`, `      # - { key: ${row.name}, constant: ${family} }`];
    });
  }

  private unusedLines(records: readonly Proposed[]): readonly string[] {
    const used = new Set(records.flatMap(({ number, fields }) => [number, ...fields.map(({ column }) => column)]));
    const unused = this.table.headings.filter((heading, column) => heading !== '' && !used.has(column));
    if (unused.length === 0) return [];
    const names = unused.map((heading) => visible(cutText(JSON.stringify(heading), 60)));
    return ['# Columns that nothing is made of:', ...names.map((one) => `#   ${one}`)];
  }

  private heading(column: number): string {
    return lineScalar(this.table.headings[column] ?? '', 'plain', true);
  }
}

function flowList(texts: readonly string[]): string {
  return `[${texts.map((text) => lineScalar(text, 'plain', true)).join(', ')}]`;
}

function choices(values: readonly { readonly value: string }[] | undefined): string {
  return (values ?? [{ value: 'true' }, { value: 'false' }]).map(({ value }) => value).join(', ');
}

function shown(text: string): string {
  return visible(cutText(JSON.stringify(text), 40));
}
