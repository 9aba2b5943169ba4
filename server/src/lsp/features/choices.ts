import { shortName } from '../../core/text/short-name.ts';
import { defineFeature } from '../feature.ts';
import { choicesRequest } from '../protocol.ts';
import { usableBase } from '../usable-base.ts';

/** The records somebody may choose from: outcomes that name captures, the latest first, or drives. */
export const choices = defineFeature({
  request: choicesRequest,
  capabilities: () => ({}),
  answer: async ({ of, uri }, context) => {
    const { snapshot } = await usableBase(uri, context);
    if (of === 'drives') {
      return snapshot.records('drive').map(({ id, data: { family = '', model = '' } }) => {
        return { id, detail: shortName([family, model].filter((part) => part !== '').join(', ')) };
      });
    }
    const traced = snapshot.records('outcome').filter(({ data }) => Object.keys(data.captures ?? {}).length > 0);
    return traced.reverse().map(({ id, data: { patient = '', donor = '' } }) => {
      return { id, detail: shortName(`${patient} with the board of ${donor}`) };
    });
  },
});
