import {
  type AnyRecord,
  type BoardRecord,
  type DriveRecord,
  isRetracted,
  type OutcomeRecord,
} from '../model/record.ts';
import { visible } from '../text/visible.ts';

/** What tells a record from others of its kind, in a few words; may be empty. Among records of a family that one need not be named. */
export function recordBrief(record: AnyRecord, family?: string): string {
  const told = partsOf(record).filter((part) => part !== undefined && part !== '' && part !== family);
  return visible([...told, ...(isRetracted(record) ? ['retracted'] : [])].join(', '));
}

/** The two drives of an outcome in a few words. */
export function pairBrief({ data: { patient, donor } }: OutcomeRecord): string {
  return `${patient ?? '?'} with the board of ${donor ?? '?'}`;
}

function partsOf(record: AnyRecord): readonly (string | undefined)[] {
  switch (record.kind) {
    case 'maker':
      return [record.data.name];
    case 'family':
      return [record.data.name, record.data.form_factor, record.data.interface, record.data.recording];
    case 'board':
      return boardParts(record);
    case 'drive':
      return driveParts(record);
    case 'outcome': {
      const { reached, result } = record.data;
      return [pairBrief(record), reached, result];
    }
    case 'rule':
      return [
        [record.data.claim, record.data.stage].filter((word) => word !== undefined).join(' at '),
        record.data.because,
      ];
    default: {
      const none: never = record;
      return none;
    }
  }
}

function boardParts({ data }: BoardRecord): readonly (string | undefined)[] {
  const revisions = (data.revisions ?? []).flatMap(({ rev }) => rev ?? []);
  const word = revisions.length === 1 ? 'revision' : 'revisions';
  return [data.part_number, revisions.length === 0 ? undefined : `${word} ${revisions.join(' ')}`];
}

function driveParts({ data }: DriveRecord): readonly (string | undefined)[] {
  const { family, model, firmware, board, parts } = data;
  const fitted = [board?.id, board?.rev].filter((word) => word !== undefined).join('/');
  return [
    family,
    model,
    firmware === undefined ? undefined : `firmware ${firmware}`,
    fitted === '' ? undefined : `board ${fitted}`,
    parts === undefined || parts === 'both' ? undefined : parts.replace('_', ' '),
  ];
}
