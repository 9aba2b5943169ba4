import type { MappingData, MappingRecordsData, MappingRecordsFieldsData } from '../../../../schemas/gen/records.ts';
import { type Answer, isAnswer } from '../recording/answers.ts';
import { foldText } from '../text/fold.ts';
import { nearestClause, nearNames } from '../text/near-names.ts';
import { quotedList } from '../text/quoted-list.ts';
import { singleSpaced } from '../text/single-spaced.ts';
import type { FieldPlan, RecordPlan, Source } from './import-map.ts';
import { keyAt } from './key-at.ts';
import type { PlacedFault } from './map-fault.ts';
import { isDateForm } from './read-date.ts';
import { unitRatio } from './read-number.ts';
import { splitTemplate, type Template } from './template.ts';

/** What a map makes of each row, its columns found in these headings; or what does not fit. */
export function planRecords(
  data: MappingData,
  headings: readonly string[],
): { readonly records: readonly RecordPlan[] } | { readonly faults: readonly PlacedFault[] } {
  const planner = new Planner(headings);
  planner.checkDates(data.table?.dates, ['table']);
  const records = (data.records ?? []).map((record, position) => planner.planRecord(record, position));
  return planner.faults.length > 0 ? { faults: planner.faults } : { records };
}

type At = readonly (string | number)[];

/** What fills a field; a field has one of these. */
const sources = ['column', 'text', 'constant', 'record'] as const;

class Planner {
  readonly faults: PlacedFault[] = [];
  /** Whether a fault names all headings: once is enough. */
  private areListed = false;
  /** Positions of the records so far, by their names. */
  private readonly named = new Map<string, number>();

  constructor(private readonly headings: readonly string[]) {}

  planRecord(record: MappingRecordsData, position: number): RecordPlan {
    const { name, kind = 'drive', id = '', when, folder, fields = [] } = record;
    const at = ['records', position];
    const planned = fields.map((field, index) => this.planField(kind, field, [...at, 'fields', index]));
    this.checkTwice(planned, at);
    if (name !== undefined) {
      if (this.named.has(name)) this.fault([...at, 'name'], `Two records of this map are called \`${name}\`.`);
      this.named.set(name, position);
    }
    const known = new Set(planned.map((field) => field.name));
    return {
      kind,
      id: this.planTemplate(id, [...at, 'id'], known),
      when: when === undefined ? undefined : this.column(when, [...at, 'when']),
      folder: folder === undefined ? undefined : this.planFolder(folder, [...at, 'folder']),
      fields: planned,
    };
  }

  checkDates(forms: readonly string[] | undefined, at: At): void {
    for (const [position, form] of (forms ?? []).entries()) {
      if (isDateForm(form)) continue;
      const message = `\`${form}\` does not tell of a day, month, week or year.`;
      this.fault([...at, 'dates', position], message, 'Each of year, month, day and week stands there once at most.');
    }
  }

  private planField(kind: RecordPlan['kind'], field: MappingRecordsFieldsData, at: At): FieldPlan {
    const { key: typed = '', unit } = field;
    const key = keyAt(kind, typed);
    if ('message' in key) this.fault([...at, 'key'], key.message, key.help);
    const [name, row] = 'message' in key ? [typed, undefined] : [key.name, key.row];
    this.checkDates(field.dates, at);
    if (unit !== undefined && (row?.unit === undefined || unitRatio(unit, row.unit) === undefined)) {
      const counted = row?.unit === undefined ? 'has no unit' : `counts ${row.unit}`;
      this.fault([...at, 'unit'], `\`${unit}\` is no unit for \`${name}\`, which ${counted}.`);
    }
    return {
      name,
      row,
      source: this.planSource(field, at),
      values: this.planValues(field.values ?? {}, at),
      fallback: field.default,
      ...{ split: field.split, unit, dates: field.dates, decimal: field.decimal },
    };
  }

  private planSource(field: MappingRecordsFieldsData, at: At): Source {
    const given = sources.filter((name) => field[name] !== undefined);
    const [first, second] = given;
    if (first === undefined) {
      const all = quotedList(sources);
      this.fault([...at, 'key'], `Nothing fills \`${field.key}\`; one of ${all} is needed.`);
    } else if (second !== undefined) {
      this.fault([...at, second], `\`${field.key}\` is filled by both \`${first}\` and \`${second}\`; one is needed.`);
    }
    const { column, text, constant = '', record } = field;
    if (column !== undefined) return { from: 'column', column: this.column(column, [...at, 'column']) };
    if (text !== undefined) return { from: 'text', template: this.planTemplate(text, [...at, 'text'], new Set()) };
    if (record === undefined) return { from: 'constant', value: constant };
    const position = this.named.get(record);
    if (position === undefined) {
      const message = `No record above this one is called \`${record}\`${nearestClause(nearNames(record, this.named.keys()))}.`;
      this.fault([...at, 'record'], message, 'Give the one that is meant a `name`, and let it stand before this one.');
    }
    return { from: 'record', position: position ?? 0 };
  }

  private planValues(values: Readonly<Record<string, unknown>>, at: At): ReadonlyMap<string, Answer> {
    const planned = new Map<string, Answer>();
    for (const [text, value] of Object.entries(values)) {
      const path = [...at, 'values', text];
      const folded = foldText(text);
      if (planned.has(folded)) this.fault(path, `\`${text}\` stands twice among these, for case does not count.`);
      if (isAnswer(value)) planned.set(folded, value);
      else this.fault(path, `\`${text}\` can stand for a text, a number, \`true\`, \`false\` or a list of texts.`);
    }
    return planned;
  }

  private planTemplate(text: string, path: At, keys: ReadonlySet<string>): Template {
    const parts = splitTemplate(text);
    if (!parts) {
      this.fault(path, `\`${text}\` has a brace without another.`);
      return [];
    }
    return parts.map((part) => {
      if (typeof part === 'string') return part;
      const { name, figures } = part;
      if (!keys.has(name)) return { column: this.column(name, path), figures };
      return { field: name, figures };
    });
  }

  private planFolder(folder: string, path: At): string {
    const parts = folder.split('/').filter((part) => part !== '');
    const isOutside = folder.startsWith('/') || parts.some((part) => part.startsWith('.') || /[\\:]/.test(part));
    if (isOutside || parts.length === 0) {
      this.fault(path, `\`${folder}\` is no folder inside a base.`, 'Write it as seen from swaplore.yaml, with `/`.');
    }
    return parts.join('/');
  }

  /** The position of a column. */
  private column(heading: string, path: At): number {
    const wanted = singleSpaced(heading);
    const found = this.headings.flatMap((one, position) => (one === wanted ? [position] : []));
    if (found.length > 1) {
      this.fault(path, `${found.length} columns have the heading \`${wanted}\`.`, 'Give each a heading of its own.');
    } else if (found.length === 0) {
      const known = this.headings.filter((one) => one !== '');
      const near = nearestClause(nearNames(wanted, known));
      const help = `The headings are ${quotedList(known)}.`;
      this.fault(
        path,
        `The table has no column \`${wanted}\`${near}.`,
        near === '' && !this.areListed ? help : undefined,
      );
      this.areListed ||= near === '';
    }
    return found[0] ?? 0;
  }

  private checkTwice(fields: readonly FieldPlan[], at: At): void {
    const seen = new Set<string>();
    for (const [position, { name }] of fields.entries()) {
      if (seen.has(name)) this.fault([...at, 'fields', position, 'key'], `\`${name}\` is filled twice.`);
      seen.add(name);
    }
  }

  private fault(path: At, message: string, help?: string): void {
    this.faults.push({ path, message, ...(help === undefined ? {} : { help }) });
  }
}
