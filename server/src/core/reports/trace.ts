import { captureColumns } from '../captures/assembly.ts';
import type { Follows } from '../captures/follows.ts';
import type { TracedValue, TraceResult } from '../captures/trace.ts';
import { inARow } from '../text/in-a-row.ts';
import type { TraceSubject } from '../verdicts/trace-outcome.ts';
import type { Block } from './document.ts';

/** What became of the values that two drives report of themselves: first in words, then in tables. */
export function traceDocument(result: TraceResult, subject: TraceSubject = {}): Block[] {
  const { values, problems } = result;
  const of = subject.outcome === undefined ? '' : `: outcome \`${subject.outcome}\``;
  return [
    { kind: 'heading', level: 1, text: `What followed the platters, and what the board${of}` },
    ...problems.map(
      ({ severity, message }): Block => ({
        kind: 'caution',
        text: `${severity === 'error' ? 'Error' : 'Warning'}: ${message}`,
      }),
    ),
    ...inWords(result, subject),
    ...(values.length === 0 ? [] : [followsTable(values, subject), reportsTable(values)]),
  ];
}

/** What is said of the values that followed something, in the order it is said in. */
const sentences: Readonly<Record<Follows, (values: string) => string>> = {
  platters: (values) => `${values} followed the platters.`,
  board: (values) => `${values} followed the board.`,
  same_on_both: (values) => `${values} may have followed either, since what both drives reported before fits.`,
  neither: (values) => `${values} followed neither, since what both drives reported before does not fit.`,
  not_known: (values) =>
    `What ${values} followed is not known: too little was reported, the reports cannot be compared, or the assemblies do not agree.`,
};

function inWords({ values, problems }: TraceResult, subject: TraceSubject): Block[] {
  if (values.length === 0)
    return [{ kind: 'paragraph', text: 'No capture reports any of the values that are traced.' }];
  const told = (Object.keys(sentences) as Follows[]).flatMap((follows) => {
    const names = values.filter((one) => one.follows === follows).map(({ value }) => value);
    return names.length === 0 ? [] : [sentences[follows](inARow(names))];
  });
  const isFaulty = problems.some(({ severity }) => severity === 'error');
  const texts = [
    ...(isFaulty ? ['With errors like these nothing that follows is sure.'] : []),
    told.join(' '),
    ...familyWords(values, subject),
    ...romWords(values, subject),
  ];
  return texts.map((text) => ({ kind: 'paragraph', text }));
}

/** Values that followed the other half than the family is recorded with. */
function familyWords(values: readonly TracedValue[], { identity, didRomStay }: TraceSubject): string[] {
  const otherwise = values.filter(({ value, follows }) => {
    const said = identity?.[value];
    return (said === 'platters' && follows === 'board') || (said === 'board' && follows === 'platters' && didRomStay);
  });
  if (otherwise.length === 0) return [];
  return [`The family is recorded otherwise for ${inARow(otherwise.map(({ value }) => value))}.`];
}

function romWords(values: readonly TracedValue[], { didRomStay }: TraceSubject): string[] {
  if (didRomStay === true || values.every(({ follows }) => follows !== 'platters')) return [];
  return [
    didRomStay === undefined
      ? 'Where the ROM went along, what followed the platters may have come in it.'
      : 'The ROM went along, so what followed the platters may have come in it.',
  ];
}

function followsTable(values: readonly TracedValue[], { identity }: TraceSubject): Block {
  const columns = ['value', 'followed', ...(identity ? ['family says'] : [])];
  return {
    kind: 'table',
    caption: 'What each value followed',
    columns: columns.map((title) => ({ title, align: 'left' })),
    rows: values.map(({ value, follows }) => [
      value,
      followedWords[follows],
      ...(identity ? [identity[value] ?? 'not recorded'] : []),
    ]),
  };
}

const followedWords: Readonly<Record<Follows, string>> = {
  platters: 'platters',
  board: 'board',
  same_on_both: 'same on both',
  neither: 'neither',
  not_known: 'not known',
};

/** One line for each report: beside each other four of them would not fit on a screen. */
function reportsTable(values: readonly TracedValue[]): Block {
  return {
    kind: 'table',
    caption: 'What each capture reported',
    columns: ['value', 'capture', 'reported'].map((title) => ({ title, align: 'left' })),
    rows: values.flatMap((traced) =>
      captureColumns.flatMap(({ role, column }) => {
        const reported = traced[role];
        return reported === undefined ? [] : [[traced.value, column, String(reported)]];
      }),
    ),
  };
}
