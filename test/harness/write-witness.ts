import type { BoardData, DriveData, FamilyData } from '../../schemas/gen/records.ts';
import type { Witness } from '../../server/src/core/reasoning/witness.ts';
import { foldText } from '../../server/src/core/text/fold.ts';
import type { PlainBase } from './arbitrary-base.ts';
import type { Plain } from './arbitrary-parts.ts';

type Side = 'patient' | 'donor';
type Values = Readonly<Record<string, string | number | boolean | undefined>>;
type Revision = NonNullable<BoardData['revisions']>[number];

/** The id of the outcome that stands for a witness. */
export const witnessId = 'witness';

/** The base with a witness written out as records: two drives, an outcome, and what boards and families need to say besides. */
export function writeWitness(base: PlainBase, witness: Witness): PlainBase {
  const writer = new Writer(base);
  const family = writer.family(witness);
  const patient = writer.drive('patient', witness.patient, family);
  const donor = writer.drive('donor', witness.donor, String(witness.donor.family ?? family));
  if (witness.dropIn) writer.claim(patient, donor);
  return {
    ...base,
    maker: [...base.maker, { kind: 'maker', id: 'any-maker', name: 'Any' }],
    family: [...writer.families.values()],
    board: [...writer.boards.values()],
    drive: [...base.drive, patient, donor],
    outcome: [
      ...base.outcome,
      {
        ...{ kind: 'outcome', id: witnessId, date: '2026-03-14', patient: patient.id, donor: donor.id },
        ...(witness.rom === undefined ? {} : { rom: witness.rom }),
        ...hours(witness),
        ...{ reached: 'verified', result: 'works' },
      },
    ],
  };
}

function hours({ patient, donor }: Witness): { identity?: { value: 'power_on_hours' }[] } {
  const row = {
    ...(patient.power_on_hours === undefined ? {} : { patient_before: Number(patient.power_on_hours) }),
    ...(donor.power_on_hours === undefined ? {} : { donor_before: Number(donor.power_on_hours) }),
  };
  return Object.keys(row).length > 0 ? { identity: [{ value: 'power_on_hours', ...row }] } : {};
}

class Writer {
  readonly families: Map<string, Plain<FamilyData>>;
  readonly boards: Map<string, Plain<BoardData>>;

  constructor(base: PlainBase) {
    this.families = new Map(base.family.map((family) => [family.id, family]));
    this.boards = new Map(base.board.map((board) => [board.id, board]));
  }

  family({ family = 'any-family', facts, maker }: Witness): string {
    const { adaptives, ...others } = facts;
    const recorded = this.families.get(family) ?? {
      kind: 'family',
      id: family,
      maker: maker ?? 'any-maker',
      name: family,
    };
    const place = adaptives === undefined ? {} : { adaptives: { ...recorded.adaptives, stored_in: adaptives } };
    this.families.set(family, { ...recorded, ...others, ...place } as Plain<FamilyData>);
    return family;
  }

  drive(side: Side, values: Values, family: string): Plain<DriveData> {
    const { board, rev, sticker, controller, motor_driver, contact_pads, rom_package, ...own } = values;
    const { family: _, power_on_hours: __, ...rest } = own;
    const isOfRevision = contact_pads !== undefined || rom_package !== undefined;
    const [boardId = isOfRevision ? `board-of-${side}` : undefined, ...name] =
      rev === undefined ? [board as string | undefined] : String(rev).split('/');
    const revName = rev === undefined ? (isOfRevision ? `of ${side}` : undefined) : name.join('/');
    if (boardId !== undefined) this.revision(boardId, revName, { contact_pads, rom_package });
    const fitted = { id: boardId, rev: revName, sticker, controller, motor_driver };
    return { kind: 'drive', id: side, family, ...rest, board: definedOf(fitted) } as Plain<DriveData>;
  }

  /** That the donor's revision, if the board did not record it before, works in place of the patient's. */
  claim(patient: Plain<DriveData>, donor: Plain<DriveData>): void {
    const wanted = patient.board?.rev ?? '';
    this.change(donor.board?.id ?? '', donor.board?.rev ?? '', (revision) =>
      this.fresh.has(revision) ? { ...revision, drop_in_for: [wanted] } : revision,
    );
  }

  private readonly fresh = new Set<Revision>();

  private revision(id: string, rev: string | undefined, { contact_pads, rom_package }: Values): void {
    const board = this.boards.get(id) ?? { kind: 'board', id, maker: 'any-maker', part_number: id, revisions: [] };
    const isThere = board.revisions?.some((revision) => foldText(revision.rev ?? '') === foldText(rev ?? ''));
    const added: Revision[] = rev === undefined || isThere ? [] : [{ rev }];
    for (const revision of added) this.fresh.add(revision);
    this.boards.set(id, { ...board, revisions: [...(board.revisions ?? []), ...added] } as Plain<BoardData>);
    if (rev === undefined) return;
    this.change(id, rev, (revision) => {
      const parts = {
        ...(contact_pads === undefined ? {} : { contact_pads }),
        ...(rom_package === undefined ? {} : { roms: [{ package: rom_package }] }),
      };
      const changed = { ...revision, ...parts } as Revision;
      if (this.fresh.has(revision)) this.fresh.add(changed);
      return changed;
    });
  }

  private change(id: string, rev: string, to: (revision: Revision) => Revision): void {
    const board = this.boards.get(id);
    if (!board) throw new Error(`There is no board ${id}`);
    const revisions = (board.revisions ?? []).map((revision) =>
      foldText(revision.rev ?? '') === foldText(rev) ? to(revision) : revision,
    );
    this.boards.set(id, { ...board, revisions });
  }
}

function definedOf(values: Values): Values {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined));
}
