import { formatSpan, parseDaySpan } from '../terms/calendar.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import { readDateCode } from '../verdicts/made-readings.ts';
import { type HoverFact, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/** The days of a week. Months and years need no explaining. */
export function dateFacts({ row, entry }: HoverContext): readonly HoverFact[] {
  const span = row.format !== undefined && /W/.test(entry.text) ? parseDaySpan(entry.text) : undefined;
  return span ? [{ label: 'Days', text: [formatSpan(span)] }] : [];
}

/** What the maker's schemes make of the date code of a drive. */
export function dateCodeFacts({ row, path, record, file }: HoverContext): readonly HoverFact[] {
  if (record?.kind !== 'drive' || path.length !== 1 || row.name !== 'date_code') return [];
  const context = contextOf(record, file.snapshot);
  const code = readDateCode(context);
  const schemes = context.maker?.data.date_code ?? [];
  if (code.state === 'unreadable') {
    const says = code.says === undefined ? 'no scheme of the maker reads it' : `${code.says}, which does not exist`;
    return [{ label: 'Reading', text: [says] }];
  }
  if (code.state === 'undecided') return [];
  return code.readings.map(({ span, scheme }) => {
    const { scheme: name = '', format = '' } = schemes[scheme] ?? {};
    const by = phrase`by scheme ${name}, format ${format}, of maker ${context.maker?.id ?? ''}`;
    return { label: 'Reading', text: [`${formatSpan(span)}, `, ...by] };
  });
}
