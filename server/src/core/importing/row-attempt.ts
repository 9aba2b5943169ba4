import type { Answer } from '../recording/answers.ts';
import { quotedList } from '../text/quoted-list.ts';
import { singleSpaced } from '../text/single-spaced.ts';
import type { FieldPlan, ImportMap, RecordPlan } from './import-map.ts';
import type { CellReader } from './read-cell.ts';
import type { Unreadable } from './reading.ts';
import type { Refusal } from './refusal.ts';
import { slugOf } from './slug.ts';
import type { Table, TableRow } from './table.ts';
import { fillTemplate, type TemplatePart } from './template.ts';

/** A record that is being made of a row. */
interface Begun {
  readonly plan: RecordPlan;
  readonly answers: ReadonlyMap<string, Answer>;
  readonly id: string;
}

/** One row while its records are made. */
export class RowAttempt {
  readonly begun: Begun[] = [];
  /** What was answered for each record, those that got no id included. */
  readonly answered: Map<string, Answer>[] = [];
  readonly refusals: Refusal[] = [];
  /** Ids of the records by the positions of their plans. */
  private readonly ids = new Map<number, string>();

  constructor(
    private readonly map: ImportMap,
    private readonly table: Table,
    private readonly cells: CellReader,
    private readonly row: TableRow,
  ) {}

  /** Makes what the row makes, or collects why it does not. */
  run(): void {
    for (const [position, plan] of this.map.records.entries()) {
      if (plan.when === undefined || !this.cells.isBlank(this.cell(plan.when))) this.begin(plan, position);
    }
    if (this.begun.length > 0 || this.refusals.length > 0) return;
    const columns = this.map.records.flatMap(({ when }) => (when === undefined ? [] : [this.heading(when)]));
    const blank = quotedList([...new Set(columns)]);
    this.refusals.push(this.refusal({ reason: `No record is made of this row, since nothing stands under ${blank}.` }));
  }

  /** Why the row does not go in, with the cell at fault where there is one. */
  refusal(why: Unreadable, field?: FieldPlan, record?: string): Refusal {
    return this.refusalAt(why, field?.source.from === 'column' ? field.source.column : undefined, record);
  }

  private refusalAt({ reason, help }: Unreadable, column: number | undefined, record?: string): Refusal {
    const { row, line } = this.row;
    const cell = column === undefined ? {} : { column: this.heading(column), value: this.cell(column).trim() };
    return {
      row,
      line,
      ...cell,
      ...(record === undefined ? {} : { record }),
      reason,
      ...(help === undefined ? {} : { help }),
    };
  }

  private begin(plan: RecordPlan, position: number): void {
    const answers = new Map<string, Answer>();
    for (const field of plan.fields) {
      const answer = this.answerTo(field);
      if (answer !== null) answers.set(field.name, answer);
    }
    leaveOutLonely(plan, answers);
    this.answered.push(answers);
    const id = this.idOf(plan, answers);
    if (id === undefined) return;
    this.ids.set(position, id);
    this.begun.push({ plan, answers, id });
  }

  private answerTo(field: FieldPlan): Answer {
    const { source } = field;
    switch (source.from) {
      case 'constant':
        return source.value;
      case 'record':
        return this.ids.get(source.position) ?? null;
      case 'text': {
        const filled = fillTemplate(source.template, { column: (at) => this.known(at), field: () => undefined });
        if ('empty' in filled) return field.fallback ?? null;
        return field.row?.refersTo === undefined ? filled.text : slugOf(filled.text);
      }
      case 'column': {
        const reading = this.cells.read(field, this.cell(source.column));
        if ('value' in reading) return reading.value;
        this.refusals.push(this.refusalAt(reading, source.column));
        return null;
      }
    }
  }

  private idOf(plan: RecordPlan, answers: ReadonlyMap<string, Answer>): string | undefined {
    const filled = fillTemplate(plan.id, {
      column: (at) => this.known(at),
      field: (name) => {
        const answer = answers.get(name) ?? null;
        return answer === null || typeof answer === 'object' ? undefined : String(answer);
      },
    });
    if ('empty' in filled) {
      this.refuseId(plan, filled.empty);
      return undefined;
    }
    const id = slugOf(filled.text);
    if (id === '') this.refusals.push(this.refusal({ reason: `No id can be made of \`${filled.text}\`.` }));
    return id === '' ? undefined : id;
  }

  private refuseId({ kind, fields }: RecordPlan, part: Exclude<TemplatePart, string>): void {
    const source = 'field' in part ? fields.find(({ name }) => name === part.field)?.source : undefined;
    const column = 'column' in part ? part.column : source?.from === 'column' ? source.column : undefined;
    // Of a cell that could not be read something was said already.
    if (column !== undefined && this.refusals.some((one) => one.column === this.heading(column))) return;
    const what = 'column' in part ? this.heading(part.column) : part.field;
    this.refusals.push(
      this.refusalAt({ reason: `The id of the ${kind} is made of \`${what}\`, where nothing stands.` }, column),
    );
  }

  private known(column: number): string | undefined {
    const cell = this.cell(column);
    return this.cells.isBlank(cell) ? undefined : singleSpaced(cell);
  }

  private cell(column: number): string {
    return this.row.cells[column] ?? '';
  }

  private heading(column: number): string {
    return this.table.headings[column] ?? '';
  }
}

/** Takes constants and defaults out of maps and list entries in which the row itself says nothing. */
function leaveOutLonely({ fields }: RecordPlan, answers: Map<string, Answer>): void {
  const aboveOf = (name: string): string => name.slice(0, name.lastIndexOf('.') + 1);
  const isSaid = ({ name, source, fallback }: FieldPlan): boolean =>
    source.from !== 'constant' && answers.has(name) && answers.get(name) !== fallback;
  for (const { name, source, fallback } of fields) {
    const above = aboveOf(name);
    if (above === '' || (source.from !== 'constant' && answers.get(name) !== fallback)) continue;
    const beside = fields.filter((field) => field.name.startsWith(above));
    const isOpen = beside.some((field) => field.source.from !== 'constant');
    if (isOpen && !beside.some(isSaid)) answers.delete(name);
  }
}
