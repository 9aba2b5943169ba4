import { type RomAction, romActionsOf } from '../conditions/rom-travels.ts';
import type { Side, Swap } from '../conditions/swap.ts';
import { hasUnusable, type OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { isAtLeast, type Stage } from '../terms/stages.ts';

/** One thing that keeps an outcome from proving a failure: where it would be recorded, and what it is in words. */
export interface Missing {
  readonly what: 'donor_proof' | 'patient_proof' | 'damage' | 'rom_proof' | 'host_need' | 'record';
  /** Path in the outcome. */
  readonly path: Path;
  /** Completes "because …". */
  readonly says: string;
}

/** What proves things besides the outcome itself. */
export interface Proofs {
  /** Another outcome with the same patient that `hda_proved_by` names. */
  readonly proof: OutcomeRecord | undefined;
  readonly worksAt: Stage;
}

type Controls = NonNullable<OutcomeRecord['data']['controls']>;

/**
 * What an outcome lacks to be eligible, as a function of the stage; nothing where it is eligible. Whatever was reached plays no part here.
 * Source: common practice, no source: a failure proves something only where board, platters, ROM and host are known to be good.
 */
export function missingProof(swap: Swap, proofs: Proofs): (stage: Stage) => Missing[] {
  const { outcome } = swap;
  const controls = outcome.data.controls ?? {};
  const before: Missing[] = hasUnusable(outcome, 'controls')
    ? [{ what: 'record', path: ['controls'], says: 'a control cannot be read' }]
    : [];
  const after = missingAtEveryStage(swap, controls, proofs);
  return (stage) => {
    const missing = [...before];
    if (!isDonorProved(controls, stage, proofs.worksAt)) {
      const says = donorSays(controls, stage);
      missing.push({ what: 'donor_proof', path: ['controls', 'donor_on_own_board'], says });
    }
    if (!isPatientProved(controls, stage, proofs)) {
      const says = patientSays(controls, stage);
      missing.push({ what: 'patient_proof', path: ['controls', 'patient_on_own_board'], says });
    }
    missing.push(...after);
    return missing;
  };
}

/** Damage, and proofs of ROM and host, which concern all stages alike. */
function missingAtEveryStage(swap: Swap, controls: Controls, { proof }: Proofs): readonly Missing[] {
  const { outcome } = swap;
  const missing: Missing[] = [];
  const damage = damageShown(controls, proof);
  if (damage) missing.push({ what: 'damage', path: ['controls', 'swapped_back'], says: damage });
  if (needsRomProof(outcome) && outcome.data.rom_proved === undefined && controls.swapped_back !== 'both_work') {
    missing.push({ what: 'rom_proof', path: ['rom_proved'], says: 'nothing shows that the ROM data really arrived' });
  }
  missing.push(...missingHostNeeds(swap));
  return missing;
}

/** A control that says `works` covers every stage up to `works_at`; above it only `verified` does. */
function covers(control: string | undefined, stage: Stage, worksAt: Stage): boolean {
  if (control === 'verified') return true;
  return (control === 'works' || control === 'both_work') && isAtLeast(worksAt, stage);
}

function isDonorProved(controls: Controls, stage: Stage, worksAt: Stage): boolean {
  return covers(controls.donor_on_own_board, stage, worksAt) || covers(controls.swapped_back, stage, worksAt);
}

function isPatientProved(controls: Controls, stage: Stage, { proof, worksAt }: Proofs): boolean {
  if (covers(controls.patient_on_own_board, stage, worksAt) || covers(controls.swapped_back, stage, worksAt))
    return true;
  return proof?.data.reached !== undefined && isAtLeast(proof.data.reached, stage);
}

function donorSays(controls: Controls, stage: Stage): string {
  if (controls.donor_on_own_board === 'fails') return "the donor's board fails on its own drive too";
  return `nothing shows the donor's board good at \`${stage}\` on its own drive`;
}

function patientSays(controls: Controls, stage: Stage): string {
  if (controls.patient_on_own_board === 'fails') {
    return `the patient fails on its own board, and no other outcome shows its head-disk assembly good at \`${stage}\``;
  }
  return `nothing shows the patient's head-disk assembly good at \`${stage}\``;
}

/** What a control shows to have broken on the way, or undefined. */
function damageShown(controls: Controls, proof: OutcomeRecord | undefined): string | undefined {
  switch (controls.swapped_back) {
    case 'donor_fails':
      return 'the donor no longer worked when swapped back';
    case 'both_fail':
      return 'neither drive worked when swapped back';
    case 'patient_fails': {
      const own = controls.patient_on_own_board;
      const hadWorked = own === 'works' || own === 'verified' || (proof?.data.reached ?? 'nothing') !== 'nothing';
      return hadWorked ? 'the patient had worked before and no longer did when swapped back' : undefined;
    }
    default:
      return undefined;
  }
}

const unproved: ReadonlySet<RomAction> = new Set(['chip_moved', 'image_written', 'controller_moved']);

/** Moved or written data must be shown to have arrived, and an absent `rom` may hide either. */
function needsRomProof(outcome: OutcomeRecord): boolean {
  return romActionsOf(outcome)?.some((action) => unproved.has(action)) ?? true;
}

function missingHostNeeds({ outcome, patient, donor }: Swap): Missing[] {
  if (needsOf(patient).length + needsOf(donor).length === 0) return [];
  const { host } = outcome.data;
  const met = new Set<string>([...(host?.meets ?? []), ...(host?.port === 'onboard' ? ['onboard_port'] : [])]);
  const missing = new Map<string, Missing>();
  for (const [name, side] of [
    ['patient', patient],
    ['donor', donor],
  ] as const) {
    for (const need of needsOf(side)) {
      if (need === undefined) {
        const says = `the ${name}'s family is not readable, so what it asks of the host is not known`;
        missing.set(name, { what: 'record', path: [name], says });
      } else if (!met.has(need)) {
        const says = `the host is not said to meet \`${need}\`, which the ${name}'s family needs`;
        missing.set(need, { what: 'host_need', path: ['host', 'meets'], says });
      }
    }
  }
  return [...missing.values()];
}

/** What a side's family asks of the host; an undefined entry where that cannot be read. Absent needs demand nothing. */
function needsOf({ family }: Side): readonly (string | undefined)[] {
  if (!family || hasUnusable(family, 'host_needs')) return [undefined];
  return family.data.host_needs ?? [];
}
