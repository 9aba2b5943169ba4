import type { Schema } from './schema.ts';

const closing = { patternProperties: { '^x-': true }, additionalProperties: false } as const;

/** The map `{from, to}` over numbers, for conditions. */
export const numberRange: Schema = {
  title: 'Range of numbers',
  description: 'A lowest and a highest number, both of them included; one alone leaves the other end open.',
  type: 'object',
  properties: {
    from: {
      title: 'At least',
      description: 'Smallest number that meets the condition.',
      where: 'In the bench notes: the smallest value among the drives that behaved alike.',
      why: 'A range drawn wider than the drives that were tried claims more than the bench has seen.',
      read_from: 'bench',
      type: 'number',
      examples: [2],
      refused: ['two', true],
    },
    to: {
      title: 'At most',
      description: 'Largest number that meets the condition.',
      where: 'In the bench notes: the largest value among the drives that behaved alike.',
      why: 'Left out, the condition also covers drives larger or older than any that were tried.',
      read_from: 'bench',
      type: 'number',
      examples: [8],
      refused: ['eight', true],
    },
  },
  ...closing,
};

/** The map `{from, to}` over dates of manufacture, for conditions. */
export const madeRange: Schema = {
  title: 'Range of manufacture',
  description:
    'First and last manufacture that meet the condition, both included; a year, month or week stands for all its days.',
  type: 'object',
  properties: {
    from: {
      $ref: 'common.schema.json#/$defs/madeBound',
      title: 'Made from',
      description: 'Earliest manufacture that meets the condition.',
      where: 'On the label of the oldest drive that behaved so.',
      why: 'A drive whose recorded week or month straddles this day neither meets nor misses the condition: that outcome stays undecided.',
      read_from: 'label',
      examples: [2010, '2010-W07'],
    },
    to: {
      $ref: 'common.schema.json#/$defs/madeBound',
      title: 'Made until',
      description: 'Latest manufacture that still meets the condition.',
      where: 'On the label of the youngest drive that behaved so.',
      why: 'Makers change a board in the middle of a year, and nothing on the outside says so; an end date keeps the claim to the drives it is known for.',
      read_from: 'label',
      examples: [2014, '2014-03'],
    },
  },
  ...closing,
};
