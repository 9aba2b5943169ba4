import type { Finding } from '../checks/finding.ts';
import { isEqual } from '../index/is-equal.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { BaseConfig } from '../model/config.ts';
import { keyNodes } from '../schema/key-rows.ts';
import { severities } from '../terms/severities.ts';
import type { SettingChange } from './review.ts';
import { dataChanges } from './value-changes.ts';

/** Settings that differ, each with what it keeps out of sight. `hidden` are the findings that only the severities before would show. */
export function settingChanges(
  before: Snapshot,
  after: Snapshot,
  hidden: readonly Finding[],
): readonly SettingChange[] {
  const changes = [...dataChanges('config', asWritten(before.config), asWritten(after.config))];
  return changes.map(({ path, before: then, after: now }) => ({
    ...{ path, before: then, after: now },
    hides: path[0] === 'severity' ? hidden.filter(({ check }) => check === path[1]) : [],
  }));
}

/** Whether the severities of two bases differ. */
export function haveOtherSeverities(before: Snapshot, after: Snapshot): boolean {
  return !isEqual(before.config.severity, after.config.severity);
}

/** The findings that stand graver, or at all, under the severities before: of each the one with that severity. */
export function hiddenFindings(underOld: readonly Finding[], underNew: readonly Finding[]): readonly Finding[] {
  const shown = new Map(underNew.map((finding) => [nameOf(finding), finding]));
  return underOld.filter((finding) => {
    const now = shown.get(nameOf(finding));
    return !now || severities.indexOf(now.severity) > severities.indexOf(finding.severity);
  });
}

function nameOf({ check, message, place }: Finding): string {
  return JSON.stringify([check, message, place.file, place.target]);
}

/** Settings by the keys they have in the file. */
function asWritten(config: BaseConfig): Readonly<Record<string, unknown>> {
  const settings = new Map(Object.entries(config));
  const keys = (keyNodes['config'] ?? []).map(({ name }) => name);
  return Object.fromEntries(
    keys.map((key) => [key, settings.get(asField(key))]).filter(([, value]) => value !== undefined),
  );
}

function asField(key: string): string {
  return key.replace(/_[a-z]/g, (letter) => letter.charAt(1).toUpperCase());
}
