import type { GeneratedFile, GeneratedRecord } from './make-base.ts';

/** A fault put into a base on purpose: the file it shows in and the check that should find it. */
export interface Planted {
  readonly path: string;
  readonly check: string;
}

/** A way to spoil a record; undefined where this record does not lend itself to it. */
interface Spoiler {
  readonly check: string;
  readonly kind: GeneratedRecord['kind'];
  readonly spoil: (text: string) => string | undefined;
}

/** Each spoils something that nothing else rests on, so that one fault gives one finding. */
const spoilers: readonly Spoiler[] = [
  { check: 'unknown-key', kind: 'outcome', spoil: replaced(/^by:/m, 'byy:') },
  { check: 'unknown-revision', kind: 'board', spoil: replaced(/drop_in_for: \[/, 'drop_in_for: [Z9, ') },
  { check: 'schema', kind: 'outcome', spoil: replaced(/^purpose: \w+/m, 'purpose: trail') },
  { check: 'outcome-breaks-rule', kind: 'rule', spoil: replaced(/^exceptions:\n(?: .*\n)+/m, '') },
  { check: 'yaml-syntax', kind: 'outcome', spoil: replaced(/^by: /m, 'by: bench: ') },
  { check: 'dangling-reference', kind: 'board', spoil: replaced(/^families: \[/m, 'families: [no-such-family, ') },
  { check: 'duplicate-key', kind: 'outcome', spoil: replaced(/^by: .*\n/m, '$&$&') },
];

/** The files with so many faults in them, one kind after the other, spread over the base. Fewer where no record is left to spoil. */
export function plantFaults(
  files: readonly GeneratedFile[],
  count: number,
): { readonly files: readonly GeneratedFile[]; readonly planted: readonly Planted[] } {
  if (count === 0) return { files, planted: [] };
  const spoilt = new Map<GeneratedRecord, GeneratedRecord>();
  const planted: Planted[] = [];
  const needed = referredOutcomes(files);
  const pathOf = new Map(files.flatMap((file) => file.records.map((record) => [record, file.path] as const)));
  const outcomePaths = new Map(
    files.flatMap((file) =>
      file.records.flatMap(({ kind, id }) => (kind === 'outcome' ? [[id, file.path] as const] : [])),
    ),
  );
  for (let fault = 0; fault < count; fault++) {
    const { check, kind, spoil } = spoilers[fault % spoilers.length] as Spoiler;
    const candidates = [...pathOf.keys()].filter(
      (record) => record.kind === kind && !spoilt.has(record) && !needed.has(record.id) && spoil(record.markedText),
    );
    const record = candidates[Math.floor(((fault + 0.5) / count) * candidates.length)];
    const markedText = record && spoil(record.markedText);
    if (!record || markedText === undefined) continue;
    spoilt.set(record, { ...record, markedText });
    const breaker = kind === 'rule' ? (/^ +- outcome: (\S+)/m.exec(record.markedText)?.[1] ?? '') : undefined;
    planted.push({ path: (breaker === undefined ? pathOf.get(record) : outcomePaths.get(breaker)) ?? '', check });
  }
  const spoiltFiles = files.map((file) => ({
    ...file,
    records: file.records.map((record) => spoilt.get(record) ?? record),
  }));
  return { files: spoiltFiles, planted };
}

/** Outcomes that another record rests on. */
function referredOutcomes(files: readonly GeneratedFile[]): ReadonlySet<string> {
  const found = files.flatMap((file) =>
    file.records.flatMap(({ markedText }) =>
      [...markedText.matchAll(/(?:hda_proved_by|- outcome): (\S+)/g)].map(([, id]) => id ?? ''),
    ),
  );
  return new Set(found);
}

function replaced(pattern: RegExp, by: string): Spoiler['spoil'] {
  return (text) => (pattern.test(text) ? text.replace(pattern, by) : undefined);
}
