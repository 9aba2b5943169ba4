import type fc from 'fast-check';
import type { PlainBase } from './arbitrary-base.ts';
import { arbitraryJointBase } from './arbitrary-joint-base.ts';

/** Small bases whose drives are all spare and whole, so that each could lend its board to any other. */
export const arbitraryShelf: fc.Arbitrary<PlainBase> = arbitraryJointBase.map((base) => ({
  ...base,
  drive: base.drive.map(({ condition: _condition, parts: _parts, ...drive }) => ({ ...drive, shelf: { spare: true } })),
}));
