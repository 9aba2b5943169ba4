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
    switch (of) {
      case 'drives':
        return snapshot.records('drive').map(({ id, data: { family = '', model = '' } }) => {
          return { id, detail: shortName([family, model].filter((part) => part !== '').join(', ')) };
        });
      case 'families': {
        const opened = uri !== undefined && position ? context.look(uri) : undefined;
        const here = opened && position && familyAt(opened.file, opened.positions.offsetAt(position));
        return snapshot.records('family').map((family) => {
          const detail = shortName(familyBrief(family, snapshot));
          return family.id === here ? { id: family.id, detail, isHere: true } : { id: family.id, detail };
        });
      }
      case 'traces':
        return tracedOutcomes(snapshot);
    }
  },
});

function tracedOutcomes(snapshot: Snapshot): Choice[] {
  const traced = snapshot.records('outcome').filter(({ data }) => Object.keys(data.captures ?? {}).length > 0);
  return traced.reverse().map(({ id, data: { patient = '', donor = '' } }) => {
    return { id, detail: shortName(`${patient} with the board of ${donor}`) };
  });
}
