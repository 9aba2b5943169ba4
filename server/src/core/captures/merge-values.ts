/**
 * One set of values out of several sources, and where these contradict one another.
 * Laws (test/property/merge-values.property.test.ts):
 * - every value is that of some source, and none is lost
 * - sources that agree bring no problem
 * - the order of the sources decides nothing between two of different forms
 */
import { keyNodes } from '../schema/key-rows.ts';
import { isSameSerial } from '../terms/same-serial.ts';
import { foldText } from '../text/fold.ts';
import type { CaptureFormat, CaptureProblem, CaptureValues } from './decoded.ts';

/** A source as far as its values are weighed. */
export interface WeighedSource {
  readonly name: string;
  readonly format?: CaptureFormat | undefined;
  readonly values: CaptureValues;
  readonly problems?: readonly CaptureProblem[];
}

/** How directly a form repeats what the drive itself said, the most direct lowest. */
const ranks: Readonly<Record<CaptureFormat, number>> = {
  ata_identify: 0,
  vpd_89: 1,
  vpd_80: 2,
  vpd_83: 3,
  smart_data: 4,
  smartctl_json: 5,
  lsblk_json: 6,
  capture: 7,
};

/** Of what has no form. */
const lastRank = 8;

/**
 * Of every value the one from the most direct source; a source with an error comes after all without. Where sources disagree about
 * serial number, model or capacity, that is a problem.
 */
export function mergeValues(sources: readonly WeighedSource[]): {
  readonly values: CaptureValues;
  readonly problems: readonly CaptureProblem[];
} {
  const ordered = sources.toSorted((a, b) => rankOf(a) - rankOf(b));
  const values = Object.fromEntries(
    valueNames.flatMap((name) => {
      const value = sourceOf(name, ordered)?.values[name];
      return value === undefined ? [] : [[name, value]];
    }),
  );
  // A sector count means nothing without the size it was counted in, so both are taken from one source where it has both.
  const counted = ordered.find(({ values: { lbaCount } }) => lbaCount !== undefined)?.values.logicalSectorBytes;
  const all = counted === undefined ? values : { ...values, logicalSectorBytes: counted };
  return { values: all, problems: [...serialsApart(ordered), ...modelsApart(ordered), ...capacitiesApart(ordered)] };
}

type ValueName = keyof CaptureValues;

/** In the schema's order. */
const valueNames = (keyNodes['captureValues'] ?? []).map(({ name }) => name as ValueName);

function rankOf({ format, problems = [] }: WeighedSource): number {
  const rank = format === undefined ? lastRank : ranks[format];
  return problems.some(({ severity }) => severity === 'error') ? rank + lastRank + 1 : rank;
}

function sourceOf(name: ValueName, ordered: readonly WeighedSource[]): WeighedSource | undefined {
  return ordered.find(({ values }) => values[name] !== undefined);
}

function serialsApart(ordered: readonly WeighedSource[]): readonly CaptureProblem[] {
  return apart(ordered, { what: 'Serial number', read: ({ serial }) => serial, isSame: isSameSerial });
}

function modelsApart(ordered: readonly WeighedSource[]): readonly CaptureProblem[] {
  return apart(ordered, { what: 'Model', read: ({ model }) => model, isSame: isSameModel });
}

/** Hosts cut model names to 16 characters and put underscores for spaces. Source: SCSI INQUIRY data, product identification. */
function isSameModel(a: string, b: string): boolean {
  const [left, right] = [a, b].map((model) => foldText(model.replaceAll('_', ' '))) as [string, string];
  return (
    left === right || (Math.min(left.length, right.length) >= 16 && (left.startsWith(right) || right.startsWith(left)))
  );
}

function capacitiesApart(ordered: readonly WeighedSource[]): readonly CaptureProblem[] {
  return apart(ordered, { what: 'Capacity', read: toCapacity, isSame: (a, b) => a === b });
}

function toCapacity({ lbaCount, logicalSectorBytes }: CaptureValues): string | undefined {
  return lbaCount === undefined || logicalSectorBytes === undefined
    ? undefined
    : `${lbaCount * logicalSectorBytes} bytes`;
}

interface Aspect {
  readonly what: string;
  readonly read: (values: CaptureValues) => string | undefined;
  /** Undefined where that cannot be told. */
  readonly isSame: (a: string, b: string) => boolean | undefined;
}

/** A problem for each source that contradicts the first one that says anything. */
function apart(ordered: readonly WeighedSource[], { what, read, isSame }: Aspect): readonly CaptureProblem[] {
  const said = ordered.flatMap(({ name, values }) => {
    const text = read(values);
    return text === undefined ? [] : [{ name, text }];
  });
  const [first, ...others] = said;
  if (first === undefined) return [];
  return others
    .filter(({ text }) => isSame(first.text, text) === false)
    .map(({ name, text }) => ({
      severity: 'warning',
      message: `${what} \`${text}\` of \`${name}\` is not the \`${first.text}\` of \`${first.name}\`; a bridge may have answered for the drive.`,
    }));
}
