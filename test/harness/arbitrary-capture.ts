import fc from 'fast-check';
import type { Capture } from '../../server/src/core/captures/capture-file.ts';
import type { CaptureFormat } from '../../server/src/core/captures/decoded.ts';
import { findKeyRow } from '../../server/src/core/schema/key-rows.ts';

/** Every form, as the schema lists them. */
export const captureFormats = (findKeyRow('capture', ['sources', 'format'])?.values ?? []).map(
  ({ value }) => value as CaptureFormat,
);

/** Serial numbers as drives have them: capitals and digits, some with a space or a hyphen within. */
export const serials: fc.Arbitrary<string> = fc
  .tuple(
    fc.array(fc.constantFrom(...'ABCDEFGHKLMNPQRSTUVWXYZ0123456789'), { minLength: 4, maxLength: 19 }),
    fc.constantFrom('', '', '', ' ', '-'),
    fc.nat(18),
  )
  .map(([characters, mark, at]) => {
    const cut = 1 + (at % (characters.length - 1));
    return `${characters.slice(0, cut).join('')}${mark}${characters.slice(cut).join('')}`;
  });

const words = fc.constantFrom('', 'Northmere', 'Tern 2', 'the answer', 'word 160', 'é', '\u0085', '\ud800', '"\\');

/** A text with holes for a serial number or words. */
function texts(holes: fc.Arbitrary<string>): fc.Arbitrary<string> {
  return fc.array(fc.oneof(holes, words), { minLength: 1, maxLength: 3 }).map((parts) => parts.join(' '));
}

function optional<T extends object>(model: { readonly [K in keyof T]: fc.Arbitrary<T[K]> }): fc.Arbitrary<Partial<T>> {
  return fc.record(model, { requiredKeys: [] }) as fc.Arbitrary<Partial<T>>;
}

/** Captures in whose texts there is much of what `holes` gives. */
export function captures(holes: fc.Arbitrary<string> = fc.constant('NT10-21')): fc.Arbitrary<Capture> {
  const text = texts(holes).map((given) => given || 'none');
  const values = optional({
    serial: holes,
    model: text,
    firmware: text,
    lbaCount: fc.nat(),
    logicalSectorBytes: fc.constantFrom(512, 4096),
    powerOnHours: fc.nat(90_000),
  });
  const problems = fc.array(
    fc.record({ severity: fc.constantFrom('error' as const, 'warning' as const), message: text }),
    {
      maxLength: 2,
    },
  );
  const source = fc.record(
    {
      name: text,
      format: fc.constantFrom(...captureFormats),
      sha256: fc.constant('3b1f0c6a9d2e47f58c60b1a4d7e3925f6e8c0a1b4d7f2936a5c8e0b1f4d72963'),
      values,
      unnamed: fc.array(fc.record({ at: text, value: text }), { maxLength: 3 }),
      problems,
    },
    { requiredKeys: ['name', 'values'] },
  );
  const capture = fc.record(
    {
      capture: fc.constant(1 as const),
      taken: fc.constantFrom('2024-09-17', '2026-02-28'),
      values,
      problems,
      sources: fc.array(source, { minLength: 1, maxLength: 2 }),
    },
    { requiredKeys: ['capture', 'values', 'sources'] },
  );
  return capture as fc.Arbitrary<Capture>;
}
