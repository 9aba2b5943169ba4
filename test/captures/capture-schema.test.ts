import { describe, expect, expectTypeOf, it } from 'vitest';
import type { CaptureValuesData } from '../../schemas/gen/records.ts';
import { type CaptureValues, captureFormats } from '../../server/src/core/captures/decoded.ts';
import { findKeyRow } from '../../server/src/core/schema/key-rows.ts';

describe('the schema of capture files', () => {
  it('knows the forms that can be decoded', () => {
    const row = findKeyRow('capture', ['sources', 'format']);
    expect(row?.values?.map(({ value }) => value)).toEqual([...captureFormats]);
  });

  it('knows the values that decoders give', () => {
    expectTypeOf<CaptureValuesData>().toEqualTypeOf<CaptureValues>();
  });
});
