import { describe, expect, it } from 'vitest';
import { boardFactsDisagree } from '../../server/src/core/checks/board-facts-disagree.ts';
import { boardOutsideFamily } from '../../server/src/core/checks/board-outside-family.ts';
import { capacityMismatch } from '../../server/src/core/checks/capacity-mismatch.ts';
import { headsOutsideFamily } from '../../server/src/core/checks/heads-outside-family.ts';
import { madeOutsideFamily } from '../../server/src/core/checks/made-outside-family.ts';
import { modelOutsideFamily } from '../../server/src/core/checks/model-outside-family.ts';
import { wwnInvalid } from '../../server/src/core/checks/wwn-invalid.ts';
import { wwnMakerMismatch } from '../../server/src/core/checks/wwn-maker-mismatch.ts';
import { firing, messagesOf, type SwapBase } from '../harness/swap-base.ts';

describe('capacity-mismatch', () => {
  const seen = (patient: string, family = 'sector_bytes: {logical: 512}'): Promise<string[]> =>
    messagesOf(capacityMismatch, { patient, family });

  it.each([
    ['capacity_gb: 1000\nlba_count: 1972656250', 0],
    ['capacity_gb: 1000\nlba_count: 1972656251', 1],
    ['capacity_gb: 1000\nlba_count: 1933593750', 0],
    ['capacity_gb: 1000\nlba_count: 1933593749', 1],
    ['capacity_gb: 40\nlba_count: 80078125', 0],
    ['capacity_gb: 40\nlba_count: 80078126', 1],
    ['lba_count: 1933593749', 0],
    ['capacity_gb: 1000\nlba_count: 5\nhost_protected: true', 0],
    ['capacity_gb: 1000\nlba_count: 5\nhost_protected: false', 1],
  ])('%j: %i', async (patient, count) => {
    expect(await seen(patient)).toHaveLength(count);
  });

  it('asks whether other sectors were counted, whichever way round', async () => {
    expect(await seen('capacity_gb: 1000\nlba_count: 1953525168', 'sector_bytes: {logical: 4096}')).toEqual([
      '`lba_count` `1953525168` times 4,096 bytes is 8.0016 TB, but `capacity_gb` is `1000` (counted in other sectors?).',
    ]);
    expect(await seen('capacity_gb: 1000\nlba_count: 976773168')).toEqual([
      '`lba_count` `976773168` times 512 bytes is 500.11 GB, but `capacity_gb` is `1000`.',
    ]);
  });

  it('judges nothing where the sector size is not known', async () => {
    expect(await seen('capacity_gb: 1000\nlba_count: 5', 'rpm: 7200')).toEqual([]);
    expect(await seen('capacity_gb: 1000\nlba_count: 5', 'sector_bytes: {logical: 512e}')).toEqual([]);
  });

  const sizes = 'sector_bytes: {logical: 512}\ncapacities_gb: [500, 1000]';

  it('reports one fault once, and sectors where there is no nominal capacity', async () => {
    expect(await seen('capacity_gb: 100\nlba_count: 1953525168', sizes)).toHaveLength(1);
    expect(await seen('lba_count: 1953525168', sizes)).toEqual([]);
    expect(await seen('lba_count: 1465149168', sizes)).toEqual([
      '`lba_count` `1465149168` makes 750.16 GB, none of the sizes that family `tern-2` was sold in: `500`, `1000` GB.',
    ]);
    expect(await seen('lba_count: 1465149168\nhost_protected: true', sizes)).toEqual([]);
  });

  it('has no list where one of its entries cannot be read', async () => {
    expect(await seen('capacity_gb: 750', 'capacities_gb: [500, 1 TB]')).toEqual([]);
  });
});

describe('facts of the family', () => {
  it.each([
    [modelOutsideFamily, 'models: ["NT?0*"]', 'model: NT10-21', 0],
    [modelOutsideFamily, 'models: ["NT?0*"]', 'model: XNT10-21', 1],
    [modelOutsideFamily, 'models: ["NT?0"]', 'model: NT10-21', 1],
    [modelOutsideFamily, 'models: ["NT.0*"]', 'model: NT10-21', 1],
    [modelOutsideFamily, 'models: ["*/S"]', 'model: NT/10/S', 0],
    [modelOutsideFamily, 'models: []', 'model: NT10-21', 0],
    [modelOutsideFamily, 'models: [NT10, 7]', 'model: XT10', 0],
    [headsOutsideFamily, 'heads: {min: 2, max: 6}', 'heads: 1', 1],
    [headsOutsideFamily, 'heads: {min: 2, max: 6}', 'heads: 2', 0],
    [headsOutsideFamily, 'heads: {min: 2}', 'heads: 9', 0],
    [headsOutsideFamily, 'heads: {max: 6}', 'heads: 7', 1],
    [headsOutsideFamily, 'heads: {min: 6, max: 2}', 'heads: 7', 0],
    [madeOutsideFamily, 'made: {from: 2010, to: 2014}', 'made: 2009-12', 1],
    [madeOutsideFamily, 'made: {from: 2010, to: 2014}', 'made: 2009-W53', 0],
    [madeOutsideFamily, 'made: {from: 2010, to: 2014}', 'made: 2009-12-31', 1],
    [madeOutsideFamily, 'made: {from: 2010, to: 2014}', 'made: 2014-12-31', 0],
    [madeOutsideFamily, 'made: {to: 2014}', 'made: 2015-01-01', 1],
    [madeOutsideFamily, 'made: {from: 2010}', 'made: 2026-01', 0],
  ])('$check: %s, %s: %i', async (check, family, patient, count) => {
    expect(await messagesOf(check, { family, patient })).toHaveLength(count);
  });

  it('say which ends they have', async () => {
    const heads = (family: string, count: number): Promise<string[]> =>
      messagesOf(headsOutsideFamily, { family, patient: `heads: ${count}` });
    expect(await heads('heads: {min: 2}', 1)).toEqual([
      'Drive `d-0117` has `1` head, but family `tern-2` is built with 2 at least.',
    ]);
    expect(await heads('heads: {max: 6}', 8)).toEqual([
      'Drive `d-0117` has `8` heads, but family `tern-2` is built with 6 at most.',
    ]);
    expect(await messagesOf(madeOutsideFamily, { family: 'made: {to: 2014}', patient: 'made: 2016-03' })).toEqual([
      'Drive `d-0117` was made `2016-03`, but family `tern-2` was built to 2014.',
    ]);
  });

  it('say nothing once they are retracted', async () => {
    const family = 'heads: {max: 6}\nretracted: {on: 2026-04-02, because: two families in one}';
    expect(await messagesOf(headsOutsideFamily, { family, patient: 'heads: 8' })).toEqual([]);
  });
});

describe('a drive filed under the wrong family', () => {
  it('is reported by its model alone', async () => {
    const board =
      'kind: board\nid: kestrel\nmaker: wren\npart_number: K-40\nfamilies: [tern-1]\nrevisions: [{rev: A}]\n';
    const other = 'kind: family\nid: tern-1\nmaker: wren\nname: Tern 1\n';
    const parts: SwapBase = {
      maker: 'ouis: [00-00-5E]',
      family: 'models: ["NT*"]\nheads: {max: 4}\nmade: {to: 2014}\ncapacities_gb: [500]',
      patient: 'heads: 6\nmade: 2018-03\ncapacity_gb: 900\nwwn: "5a1b2c3000530001"\nboard: {id: kestrel, rev: A}',
      files: { 'boards/kestrel.yaml': board, 'families/other.yaml': other },
    };
    expect(await firing(parts)).toEqual([
      'board-outside-family',
      'capacity-mismatch',
      'heads-outside-family',
      'made-outside-family',
      'wwn-maker-mismatch',
    ]);
    expect(await firing({ ...parts, patient: `${parts.patient}\nmodel: QX-100` })).toEqual(['model-outside-family']);
  });
});

describe('boards', () => {
  const board = (more: string): SwapBase => ({
    files: { 'boards/kestrel.yaml': `kind: board\nid: kestrel\nmaker: wren\npart_number: K-40\n${more}` },
  });
  const fitted = 'board: {id: kestrel, rev: a, controller: KR5120, motor_driver: MD6-314}';

  it.each([
    ['revisions: [{rev: A, controller: KR5120, motor_driver: MD6-314}]', 0],
    ['revisions: [{rev: A, controller: "kr5120 "}]', 0],
    ['revisions: [{rev: A, controller: [KR5121, KR5120]}]', 0],
    ['revisions: [{rev: A, controller: KR5121}]', 1],
    ['revisions: [{rev: A, controller: KR5121, motor_driver: [X, Y]}]', 2],
    ['revisions: [{rev: A, controller: [KR5121, 7]}]', 0],
    ['revisions: [{rev: B, controller: KR5121}]', 0],
    ['revisions: [{rev: A, controller: KR5121}]\nretracted: {on: 2026-04-02, because: photo of another board}', 0],
  ])('board-facts-disagree: %s: %i', async (more, count) => {
    expect(await messagesOf(boardFactsDisagree, { ...board(more), patient: fitted })).toHaveLength(count);
  });

  it('have the plug of their families', async () => {
    const parts = board('interface: sata\nfamilies: [tern-2]\nrevisions: [{rev: A}]\n');
    expect(await messagesOf(boardFactsDisagree, { ...parts, family: 'interface: sata' })).toEqual([]);
    expect(await messagesOf(boardFactsDisagree, parts)).toEqual([]);
    expect(await messagesOf(boardFactsDisagree, { ...parts, family: 'interface: usb' })).toEqual([
      'Board `kestrel` has the interface `sata`, but family `tern-2`, on which it was found, has `usb`.',
    ]);
  });

  it('of no recorded family are of none', async () => {
    const parts = board('revisions: [{rev: A}]\n');
    expect(await messagesOf(boardOutsideFamily, { ...parts, patient: 'board: {id: kestrel, rev: A}' })).toEqual([]);
    expect(await messagesOf(boardOutsideFamily, { patient: 'board: {id: osprey, rev: A}' })).toEqual([]);
  });

  it('of another family are not compared further', async () => {
    const other = 'kind: family\nid: tern-1\nmaker: wren\nname: Tern 1\n';
    const parts = board('families: [tern-1]\nrevisions: [{rev: A, controller: KR5121}]\n');
    const files = { ...parts.files, 'families/other.yaml': other };
    expect(await firing({ files, patient: fitted })).toEqual(['board-outside-family']);
  });
});

describe('world-wide names', () => {
  const maker = 'ouis: [00-00-5e, 0A-1B-2C]';
  const own = 'wwn: "500005e000530001"';

  it.each([
    ['500005e000530001', 0],
    ['50a1b2c000530001', 0],
    ['2abc00005e123456', 0],
    ['50a1b2d000530001', 1],
    ['3123456789abcdef', 0],
    ['50a1b2d00053000', 0],
  ])('wwn-maker-mismatch: %s: %i', async (wwn, count) => {
    expect(await messagesOf(wwnMakerMismatch, { maker, patient: `wwn: "${wwn}"` })).toHaveLength(count);
  });

  it('say nothing against a maker without prefixes', async () => {
    const patient = 'wwn: "50a1b2d000530001"';
    expect(await messagesOf(wwnMakerMismatch, { patient })).toEqual([]);
    expect(await messagesOf(wwnMakerMismatch, { patient, maker: 'ouis: []' })).toEqual([]);
    expect(await messagesOf(wwnMakerMismatch, { patient, maker: 'ouis: [00005E]' })).toEqual([]);
  });

  it('in rows are judged unless the drive records the same one, and once', async () => {
    const rows = (text: string, more = ''): string => `identity: [{value: wwn, ${text}}]${more}`;
    const strange = '50a1b2d000530001';
    const seen = (parts: SwapBase): Promise<string[]> => messagesOf(wwnMakerMismatch, { maker, ...parts });
    expect(await seen({ outcome: rows(`patient_before: "${strange}", after: "${strange}"`) })).toHaveLength(1);
    expect(await seen({ outcome: rows(`after: "${strange}"`), patient: own })).toHaveLength(1);
    expect(await seen({ outcome: rows(`patient_before: "${strange}"`), patient: own })).toEqual([]);
    expect(await seen({ outcome: rows(`after: "0x${strange}"`), patient: `wwn: "${strange}"` })).toHaveLength(1);
    expect(await seen({ outcome: rows(`after: "${strange}"`, '\nhost: {port: usb_bridge}') })).toEqual([]);
  });

  it('in rows may be long, behind a bridge anything', async () => {
    const seen = (outcome: string, patient = own): Promise<string[]> => messagesOf(wwnInvalid, { outcome, patient });
    expect(await seen('identity: [{value: wwn, after: "600005e0005300010123456789abcdef"}]')).toEqual([]);
    expect(await seen('identity: [{value: wwn, after: "none"}]')).toHaveLength(1);
    expect(await seen('identity: [{value: wwn, after: "none"}]\nhost: {port: usb_bridge}')).toEqual([]);
    expect(await seen('by: bench-2', 'wwn: "600005e0005300010123456789abcdef"')).toEqual([
      'World-wide name `600005e0005300010123456789abcdef` has 32 hexadecimal digits, but that of a drive has 16.',
    ]);
  });
});
