import { expect, it } from 'vitest';
import { describeWitness } from '../../server/src/core/reasoning/describe-witness.ts';
import type { Witness } from '../../server/src/core/reasoning/witness.ts';

const any: Witness = {
  patient: {},
  donor: {},
  family: undefined,
  facts: {},
  maker: undefined,
  rom: undefined,
  dropIn: false,
};

it.each<readonly [Partial<Witness>, string]>([
  [{}, 'any swap'],
  [{ family: 'tern-2' }, 'a swap with family `tern-2`'],
  [{ family: 'new-1' }, 'a swap with a family that is not recorded'],
  [{ maker: 'wren' }, 'a swap with maker `wren`'],
  [{ maker: 'new-12' }, 'a swap with maker another'],
  [{ maker: 'anew-1' }, 'a swap with maker `anew-1`'],
  [{ maker: 'new-1a' }, 'a swap with maker `new-1a`'],
  [{ facts: { adaptives: 'rom_chip' }, rom: 'left' }, 'a swap with `adaptives` `rom_chip` and `rom` `left`'],
  [{ patient: { heads: 4 }, donor: { heads: 4 } }, 'a swap with `heads` `4` on both'],
  [{ patient: { heads: 4 }, donor: { heads: 2 } }, 'a swap with `heads` `4` on the patient and `2` on the donor'],
  [{ patient: { site: 'new-1' }, donor: { site: 'new-1' } }, 'a swap with the same `site` on both'],
  [{ patient: { site: 'new-1' }, donor: { site: 'new-2' } }, 'a swap with two different `site`'],
  [
    { patient: { site: 'KL' }, donor: { site: 'new-2' } },
    'a swap with `site` `KL` on the patient and another on the donor',
  ],
  [
    { patient: { site: 'new-1' }, donor: { site: 'KL' } },
    'a swap with `site` another on the patient and `KL` on the donor',
  ],
  [{ patient: { site: 'KL' } }, 'a swap with `site` `KL` on the patient'],
  [{ donor: { site: 'KL' } }, 'a swap with `site` `KL` on the donor'],
  [{ patient: { site: 'new-1' } }, 'a swap with another `site` on the patient'],
  [{ donor: { site: 'new-1' } }, 'a swap with another `site` on the donor'],
  [{ patient: { rev: 'w100/A' }, donor: { rev: 'w100/A' } }, 'a swap with `rev` `w100/A` on both'],
  [{ patient: { rev: 'new-1/A' }, donor: { rev: 'new-1/A' } }, 'a swap with the same `rev` on both'],
  [
    { patient: { rev: 'w100/A' }, donor: { rev: 'w100/B' } },
    'a swap with `rev` `w100/A` on the patient and `w100/B` on the donor',
  ],
  [
    { patient: { rev: 'w100/A' }, donor: { rev: 'w100/new-1' } },
    'a swap with `rev` `w100/A` on the patient and another revision of board `w100` on the donor',
  ],
  [
    { patient: { rev: 'new-1/A' }, donor: { rev: 'w100/B' } },
    'a swap with another `rev` on the patient and `w100/B` on the donor',
  ],
  [
    { patient: { rev: 'w100/A' }, donor: { rev: 'new-1/B' } },
    'a swap with `rev` `w100/A` on the patient and another `rev` on the donor',
  ],
  [{ patient: { rev: 'new-1/A' }, donor: { rev: 'new-1/B' } }, 'a swap with two revisions of one board'],
  [{ patient: { rev: 'new-1/A' }, donor: { rev: 'new-2/A' } }, 'a swap with two different boards'],
  [{ patient: { rev: 'w100/A' } }, 'a swap with `rev` `w100/A` on the patient'],
  [{ donor: { rev: 'new-1/A' } }, 'a swap with another `rev` on the donor'],
  [{ dropIn: true }, "a swap with the donor's revision a drop-in for the patient's"],
  [
    {
      ...{ family: 'tern-2', maker: 'wren', facts: { adaptives: 'rom_chip' } },
      ...{
        patient: { heads: 4, rev: 'w100/A' },
        donor: { rev: 'w100/B', site: 'KL' },
        rom: 'image_written',
        dropIn: true,
      },
    },
    "a swap with family `tern-2`, maker `wren`, `adaptives` `rom_chip`, `heads` `4` on the patient, `rev` `w100/A` on the patient and `w100/B` on the donor, `site` `KL` on the donor, the donor's revision a drop-in for the patient's and `rom` `image_written`",
  ],
])('%j', (witness, words) => expect(describeWitness({ ...any, ...witness })).toBe(words));
