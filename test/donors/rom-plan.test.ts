import { expect, it } from 'vitest';
import { sideOf } from '../../server/src/core/conditions/swap.ts';
import { romPlanFor } from '../../server/src/core/donors/rom-plan.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

function planFor(family: string, drive = '') {
  const snapshot = snapshotOf({
    'f.yaml': `kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n${family}`,
    'd.yaml': `kind: drive\nid: d-1\nfamily: tern-2\n${drive}`,
  });
  return romPlanFor(sideOf(snapshot.find('drive', 'd-1')!, snapshot));
}

it.each([
  ['adaptives: {stored_in: rom_chip}\n', ['chip_moved']],
  ['adaptives: {stored_in: controller}\n', ['controller_moved']],
  ['adaptives: {stored_in: platters}\n', ['left']],
  ['', undefined],
  ['adaptives: {stored_in: rom_chip}\nencryption: always\nkey_in: controller\n', ['chip_moved', 'controller_moved']],
  ['adaptives: {stored_in: platters}\nencryption: always\nkey_in: rom_chip\n', ['chip_moved']],
  ['adaptives: {stored_in: rom_chip}\nencryption: always\nkey_in: bridge\n', ['chip_moved']],
])('adaptives and key travel from wherever they are: %s', (family, actions) => {
  expect(planFor(family).actions).toEqual(actions);
});

it('from a board that is not there nothing is moved, but a kept image can be written', () => {
  const family = 'adaptives: {stored_in: rom_chip}\n';
  expect(planFor(family, 'parts: hda_only\n').actions).toBeUndefined();
  const image = `rom_image: {sha256: "${'1'.repeat(64)}"}\n`;
  expect(planFor(family, `parts: hda_only\n${image}`).actions).toEqual(['image_written']);
  expect(planFor('adaptives: {stored_in: platters}\n', 'parts: hda_only\n').actions).toEqual(['left']);
});

it.each([
  ['encryption: none\n', 'encrypted: true\n', undefined],
  ['encryption: always\n', 'encrypted: false\n', { in: 'bridge', isCertain: true }],
  ['encryption: optional\n', '', { in: 'bridge', isCertain: false }],
  ['encryption: optional\n', 'encrypted: false\n', undefined],
  ['encryption: optional\n', 'encrypted: true\n', { in: 'bridge', isCertain: true }],
  ['', '', undefined],
  ['', 'encrypted: true\n', { in: 'bridge', isCertain: true }],
  ['', 'encrypted: perhaps\n', { in: 'bridge', isCertain: false }],
])('the key: family %s drive %s', (encryption, drive, key) => {
  expect(planFor(`${encryption}key_in: bridge\n`, drive).key).toEqual(key);
});
