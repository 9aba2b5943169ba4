import { describe, expect, it } from 'vitest';
import { verifyExceedsCapacity } from '../../server/src/core/checks/verify-exceeds-capacity.ts';
import { verifyTooFast } from '../../server/src/core/checks/verify-too-fast.ts';
import { firing, messagesOf, type SwapBase } from '../harness/swap-base.ts';

const sata = 'sector_bytes: {logical: 512}\ninterface: sata';
const exact = 'capacity_gb: 1000\nlba_count: 1953525168';

function row(text: string): { outcome: string } {
  return { outcome: `verify: [{method: hash_compare, ${text}}]` };
}

describe('verify-exceeds-capacity', () => {
  const seen = (parts: SwapBase): Promise<string[]> => messagesOf(verifyExceedsCapacity, { family: sata, ...parts });

  it.each([
    ['bytes: 1000204886016', exact, 0],
    ['bytes: 1000204886017', exact, 1],
    ['bytes: 2000409772032, passes: 2', exact, 0],
    ['bytes: 2000409772033, passes: 2', exact, 1],
    ['bytes: 1000204886016', 'capacity_gb: 1000', 0],
    ['bytes: 1010000000001', 'capacity_gb: 1000', 1],
    ['bytes: 9000000000000', 'model: NT10', 0],
    ['bytes: 9000000000000, passes: none', exact, 0],
    ['bytes: 9 TB', exact, 0],
  ])('%s on a drive with %j: %i', async (text, patient, count) => {
    expect(await seen({ patient, ...row(text) })).toHaveLength(count);
  });

  it('allows the larger of two sizes that contradict each other', async () => {
    const patient = 'capacity_gb: 1000\nlba_count: 244190646';
    expect(await seen({ patient, ...row('bytes: 1000204886016') })).toEqual([]);
    expect(await seen({ patient, ...row('bytes: 1100000000000') })).toHaveLength(1);
  });

  it('says how many passes and what the drive holds', async () => {
    expect(await seen({ patient: exact, ...row('bytes: 3000000000000, passes: 2') })).toEqual([
      '`verify` counts 3,000,000,000,000 bytes in 2 passes, but patient `d-0117` holds 1,000,204,886,016 bytes.',
    ]);
  });
});

describe('verify-too-fast', () => {
  const seen = (text: string, family = sata, more: SwapBase = {}): Promise<string[]> =>
    messagesOf(verifyTooFast, { family, ...row(text), ...more });

  it.each([
    // At 600 MB/s: 54 GB in a minute and a half, 37.8 GB in 1.05 minutes, 18 GB in half a minute.
    ['bytes: 54000000000, minutes: 1', 0],
    ['bytes: 54000000001, minutes: 1', 1],
    ['bytes: 41400000000, minutes: 1.1', 0],
    ['bytes: 41400000001, minutes: 1.1', 1],
    ['bytes: 18000000000, minutes: 0', 0],
    ['bytes: 18000000001, minutes: 0', 1],
    ['bytes: 99000000000', 0],
    ['minutes: 1', 0],
  ])('%s: %i', async (text, count) => {
    expect(await seen(text)).toHaveLength(count);
  });

  it.each([
    ['pata', 11_970_000_000],
    ['sas', 108_000_000_000],
  ])('%s has a limit of its own', async (name, most) => {
    expect(await seen(`bytes: ${most}, minutes: 1`, `interface: ${name}`)).toEqual([]);
    expect(await seen(`bytes: ${most + 1}, minutes: 1`, `interface: ${name}`)).toHaveLength(1);
  });

  it.each(['scsi', 'fc', 'usb'])('%s has no one limit', async (name) => {
    expect(await seen('bytes: 9000000000000, minutes: 1', `interface: ${name}`)).toEqual([]);
  });

  it('leaves the row to verify-exceeds-capacity where the bytes are wrong', async () => {
    expect(await firing({ family: sata, patient: exact, ...row('bytes: 9000000000000, minutes: 90') })).toEqual([
      'verify-exceeds-capacity',
    ]);
  });
});
