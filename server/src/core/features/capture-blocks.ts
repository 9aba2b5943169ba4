import type { CaptureValues } from '../captures/decoded.ts';
import { maskSerials } from '../captures/mask-serials.ts';
import { idemaGb } from '../terms/capacity.ts';
import { byteSize } from '../text/byte-size.ts';
import { inThousands } from '../text/in-thousands.ts';
import { capturesOf } from '../verdicts/outcome-captures.ts';
import { type HoverBlock, type HoverFact, type Phrase, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/** What the capture says that a value names; empty for all other values, and where nobody has looked at the file. */
export function captureBlocks({ record, path, entry, file: { snapshot } }: HoverContext): readonly HoverBlock[] {
  if (record?.kind !== 'outcome' || path[0] !== 'captures' || path.at(-1) === 'sha256') return [];
  const found = capturesOf(record, snapshot).find(
    ({ column, written }) => column === path[1] && written === entry.text,
  );
  if (!found) return [];
  const { facts } = found;
  const { values, problems } = snapshot.config.serials === 'full' ? facts : maskSerials(facts, 'masked');
  const about = valueFacts(values);
  return [
    { kind: 'title', name: 'Capture', typed: entry.text, note: facts.taken && `taken ${facts.taken}` },
    ...(about.length === 0
      ? [{ kind: 'paragraph', text: ['No value can be read from it.'] } as const]
      : [{ kind: 'facts', facts: about } as const]),
    ...problems.map(
      ({ source, message }) =>
        ({
          kind: 'paragraph',
          text: source === undefined ? [{ quoted: message }] : phrase`${source}: ${[{ quoted: message }]}`,
        }) as const,
    ),
  ];
}

function valueFacts(values: CaptureValues): readonly HoverFact[] {
  const { model, firmware, serial, wwn, rpm, powerOnHours, transport } = values;
  const facts: readonly (readonly [string, Phrase | undefined])[] = [
    ['Model', model === undefined ? undefined : phrase`${model}`],
    ['Firmware', firmware === undefined ? undefined : phrase`${firmware}`],
    ['Serial number', serial === undefined ? undefined : phrase`${serial}`],
    ['World-wide name', wwn === undefined ? undefined : phrase`${wwn}`],
    ['Capacity', capacityOf(values)],
    ['Speed', rpm === undefined ? undefined : [rpm === 0 ? 'nothing turns' : `${inThousands(rpm)} turns a minute`]],
    ['Power-on hours', powerOnHours === undefined ? undefined : [inThousands(powerOnHours)]],
    ['Reached through', transport === undefined ? undefined : phrase`${transport}`],
  ];
  return facts.flatMap(([label, text]) => (text === undefined ? [] : [{ label, text }]));
}

/** The size, and the nominal one it is the usual number of sectors for. */
function capacityOf({ lbaCount, logicalSectorBytes }: CaptureValues): Phrase | undefined {
  if (lbaCount === undefined) return undefined;
  const sectors = `${inThousands(lbaCount)} sectors`;
  if (logicalSectorBytes === undefined) return [sectors];
  const nominal = idemaGb(lbaCount, logicalSectorBytes);
  const sold = nominal === undefined ? '' : `, as drives of ${inThousands(nominal)} GB have`;
  return [
    `${byteSize(lbaCount * logicalSectorBytes)} in ${sectors} of ${inThousands(logicalSectorBytes)} bytes${sold}`,
  ];
}
