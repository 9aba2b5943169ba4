import { driveAt } from '../../core/features/drive-at.ts';
import { familyAt } from '../../core/features/family-at.ts';
import { familyBrief } from '../../core/features/family-brief.ts';
import type { Snapshot } from '../../core/index/snapshot.ts';
import { shortName } from '../../core/text/short-name.ts';
import { defineFeature } from '../feature.ts';
import { type Choice, choicesRequest } from '../protocol.ts';
import { usableBase } from '../usable-base.ts';

/** The records somebody may choose from: outcomes that name captures, the latest first, drives, or families with how they fared. */
export const choices = defineFeature({
  request: choicesRequest,
  capabilities: () => ({}),
  answer: async ({ of, uri, position }, context): Promise<Choice[]> => {
    const { snapshot } = await usableBase(uri, context);
    const opened = uri !== undefined && position ? context.look(uri) : undefined;
    const offset = opened && position ? opened.positions.offsetAt(position) : 0;
    switch (of) {
      case 'drives':
        return marked(drives(snapshot), opened && driveAt(opened.file, offset)?.id);
      case 'families':
        return marked(families(snapshot), opened && familyAt(opened.file, offset));
      case 'traces':
        return tracedOutcomes(snapshot);
    }
  },
});

function marked(choices: readonly Choice[], here: string | undefined): Choice[] {
  return choices.map((choice) => (choice.id === here ? { ...choice, isHere: true } : choice));
}

function drives(snapshot: Snapshot): Choice[] {
  return snapshot.records('drive').map(({ id, data: { family = '', model = '' } }) => {
    return { id, detail: shortName([family, model].filter((part) => part !== '').join(', ')) };
  });
}

function families(snapshot: Snapshot): Choice[] {
  return snapshot.records('family').map((family) => {
    return { id: family.id, detail: shortName(familyBrief(family, snapshot)) };
  });
}

function tracedOutcomes(snapshot: Snapshot): Choice[] {
  const traced = snapshot.records('outcome').filter(({ data }) => Object.keys(data.captures ?? {}).length > 0);
  return traced.reverse().map(({ id, data: { patient = '', donor = '' } }) => {
    return { id, detail: shortName(`${patient} with the board of ${donor}`) };
  });
}
