import type { ConfigData } from '../../../../schemas/gen/records.ts';
import { validate } from '../schema/validate.ts';
import { buildData, type DataMap } from '../syntax/build-data.ts';
import { limits } from '../syntax/limits.ts';
import { readText } from '../syntax/read-text.ts';
import type { Severity } from '../terms/severities.ts';
import type { Stage } from '../terms/stages.ts';
import { decodeText } from '../text/decode.ts';
import { firstLine } from '../text/first-line.ts';
import type { Fault } from './fault.ts';
import { withoutUnusable } from './prune.ts';

/** The settings of a base, defaults filled in. */
export interface BaseConfig {
  readonly name: string | undefined;
  /** Lowest stage that counts as "works". */
  readonly worksAt: Stage;
  /** Share of the capacity, above 0 and at most 1, that must compare error-free before a read is called verified. */
  readonly verifiedShare: number;
  readonly serials: 'masked' | 'full';
  /** Longest a clicking or beeping drive may stay powered without a warning, in minutes. */
  readonly keptPoweredMinutes: number;
  /** Patterns of paths that do not belong to the base. */
  readonly ignore: readonly string[];
  /** Severities that differ from the checks' own. */
  readonly severity: Readonly<Record<string, Severity | 'off' | undefined>>;
}

/** A config as read: its settings, what was wrong with it, and whether the base can be checked at all. */
export interface ConfigReading {
  readonly config: BaseConfig;
  readonly faults: readonly Fault[];
  /** False for broken syntax or a format version this tool does not know. */
  readonly isUsable: boolean;
}

/** Reads `swaplore.yaml`. Values that break the schema are reported and replaced by their defaults. Never throws. */
export function readConfig(bytes: Uint8Array): ConfigReading {
  const decoded = decodeText(bytes);
  if ('reason' in decoded) return unusable([{ kind: 'not-text', reason: decoded.reason }]);
  if (bytes.length > limits.fileBytes) return unusable([{ kind: 'too-large', bytes: bytes.length }]);
  const { tape, faults: syntaxFaults } = readText(decoded.text);
  if (syntaxFaults.length > 0) return unusable(syntaxFaults);
  const documents = tape.documents.filter((document) => document.root >= 0);
  const [only] = documents;
  if (!only) {
    const problem = { what: 'missing', expected: 'the line `swaplore: 1`' } as const;
    return unusable([{ kind: 'schema', document: 0, path: ['swaplore'], problem }]);
  }
  if (documents.length > 1 || tape.entries[only.root]?.kind !== 'map') {
    const typed = firstLine(decoded.text.trim()).slice(0, 60);
    const problem = { what: 'refused', typed, expected: 'one map that begins with `swaplore: 1`', near: [] } as const;
    return unusable([{ kind: 'schema', document: 0, path: [], problem }]);
  }
  const built = buildData(tape, only.root);
  if (built.data === undefined) return unusable(built.faults);
  const schemaFaults = validate({ kind: 'config', data: built.data, tape, root: only.root });
  const faults = [...built.faults, ...schemaFaults.map((fault) => ({ ...fault, document: 0 }))];
  if (schemaFaults.some((fault) => fault.path[0] === 'swaplore')) return unusable(faults);
  const { data } = withoutUnusable(
    built.data as DataMap,
    schemaFaults.map((fault) => fault.path),
  );
  return { config: withDefaults(data as ConfigData), faults, isUsable: true };
}

/** Settings of a base whose config says nothing. */
export const defaultConfig: BaseConfig = withDefaults({});

function unusable(faults: readonly Fault[]): ConfigReading {
  return { config: defaultConfig, faults, isUsable: false };
}

function withDefaults(data: ConfigData): BaseConfig {
  return {
    name: data.name,
    worksAt: data.works_at ?? 'reads',
    verifiedShare: data.verified_share ?? 0.02,
    serials: data.serials ?? 'masked',
    keptPoweredMinutes: data.kept_powered_minutes ?? 0.5,
    ignore: data.ignore ?? [],
    severity: data.severity ?? {},
  };
}
