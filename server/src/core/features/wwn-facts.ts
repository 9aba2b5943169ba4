import { assignedNumbers, parseWwn, type Wwn } from '../terms/wwn.ts';
import { type HoverFact, joined, type Phrase, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import type { OpenFile } from './open-file.ts';
import { isOwnOrReported } from './reported-at.ts';

/** The parts of a world-wide name. */
export function wwnFacts(context: HoverContext): readonly HoverFact[] {
  const { entry, file } = context;
  if (!isOwnOrReported(context, 'wwn')) return [];
  const wwn = parseWwn(entry.text);
  if ('says' in wwn) return [{ label: 'Fault', text: [wwn.says] }];
  return [
    { label: 'Layout', text: [`NAA ${wwn.naa}, ${layouts[wwn.naa]}`] },
    ...(wwn.oui === undefined ? [] : [{ label: 'IEEE prefix', text: phrase`${wwn.oui}${ownerOf(wwn.oui, file)}` }]),
    {
      label: wwn.oui === undefined ? 'Local number' : "Maker's number",
      text: joined(assignedNumbers(wwn).map((digits) => phrase`${digits}`)),
    },
  ];
}

/** Source: T10 SPC, NAA designator formats (from memory of the standard). */
const layouts: Readonly<Record<Wwn['naa'], string>> = {
  2: 'IEEE extended',
  3: 'assigned locally, so that it says nothing of the maker',
  5: 'IEEE registered',
  6: 'IEEE registered extended',
};

/** Whose prefix it is, as the makers of the base list theirs. */
function ownerOf(oui: string, { isIndexed, snapshot }: OpenFile): Phrase {
  const owners = snapshot.records('maker').filter(({ data }) => data.ouis?.some((one) => one.toUpperCase() === oui));
  const [owner] = owners;
  if (owner) return phrase` of maker ${owner.id}`;
  return [isIndexed ? ', which no maker of this base lists' : ''];
}
