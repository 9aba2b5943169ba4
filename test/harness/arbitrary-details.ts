/** Keys that no condition names, for the checks that look at them. Two records in three have none. */
import fc from 'fast-check';
import type { DriveData, FamilyData, OutcomeData } from '../../schemas/gen/records.ts';
import { oneOfEach } from './base-values.ts';
import { sparse } from './sparse.ts';

function seldom<Map extends object>(details: fc.Arbitrary<Map>): fc.Arbitrary<Partial<Map>> {
  return fc.oneof({ weight: 2, arbitrary: fc.constant({}) }, { weight: 1, arbitrary: details });
}

const follows = ['platters', 'board', 'both'] as const;

/** What a family may say of its models, sizes, years and identities. */
export const arbitraryFamilyDetails: fc.Arbitrary<FamilyData> = seldom(
  sparse({
    models: fc.constantFrom(['TN1-*'], ['X?']),
    capacities_gb: fc.constantFrom([500], [500, 1000]),
    heads: sparse(oneOfEach({ min: [1, 2], max: [2, 3] })),
    made: sparse(oneOfEach({ from: [2012, 2013], to: [2012, 2014] })),
    identity: sparse(oneOfEach({ serial: follows, power_on_hours: follows, wwn: follows })),
  }),
);

/** What is known of one unit besides its comparable keys. */
export const arbitraryDriveDetails: fc.Arbitrary<DriveData> = seldom(
  sparse({
    ...oneOfEach({
      parts: ['both', 'board_only', 'hda_only'] as const,
      serial: ['****4F2K', '****9Q1C', 'WX40112'],
      wwn: ['5000051234567890', '0x5000051234567891', '9000000000000000'],
      date_code: ['1231', '12 W31', '99'],
      lba_count: [976_773_168, 1_953_525_168, 17],
      host_protected: [true, false],
      data: ['wanted', 'test', 'none'] as const,
    }),
    rom_image: fc.constant({ sha256: 'ab'.repeat(32) }),
    shelf: sparse(oneOfEach({ spare: [true, false], place: ['B2'] })),
    condition: sparse(
      oneOfEach({
        board: ['good', 'faulty'] as const,
        media: ['good', 'failed'] as const,
        as_of: ['2026-03-01', '2026-12-24'],
      }),
    ),
  }),
);

/** What was seen and measured in one try. */
export const arbitraryOutcomeDetails: fc.Arbitrary<OutcomeData> = seldom(
  sparse({
    purpose: fc.constantFrom('trial', 'recovery'),
    observed: sparse(
      oneOfEach({
        spins: [true, false],
        stops_again: [true, false],
        sound: ['normal', 'clicking', 'grinding'],
        powered_minutes: [0.2, 40],
        detected: [true, false],
        reads: [true, 'partly', false],
        content: ['sensible', 'noise'],
      }),
    ),
    verify: fc.array(
      fc
        .tuple(
          fc.constantFrom('checksum_scrub', 'hash_compare', 'read_pass', 'write_pass', 'mount_only'),
          sparse(oneOfEach({ bytes: [0, 500e9, 9e12], errors: [0, 2], minutes: [1, 600], passes: [1, 2] })),
        )
        .map(([method, row]) => ({ method, ...row })),
      { maxLength: 2 },
    ),
  }),
) as fc.Arbitrary<OutcomeData>;
