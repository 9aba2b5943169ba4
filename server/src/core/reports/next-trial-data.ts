import { romTravels } from '../conditions/rom-travels.ts';
import type { Claim } from '../explanations/claims-of.ts';
import type { Entry } from '../explanations/entry.ts';
import type { NextTrial } from '../trials/next-trial.ts';
import type { Belief, PlannedTrial } from '../trials/plan-trials.ts';
import { countsOf } from './decided-words.ts';

/** Most explanations and trials that JSON spells out. */
const [mostExplanations, mostTrials] = [50, 20];

/** The next trial with the keys and shapes of the JSON output. */
export function nextTrialData(found: NextTrial, worksAt: string): object {
  const { family, decided, open, candidates, none, trials, untold, shelf, looked } = found;
  return {
    ...{ family, worksAt },
    decided: { ...countsOf(decided), inconclusive: open },
    noneOfThese: none,
    explanations: candidates
      .slice(0, mostExplanations)
      .map(({ claim, equals, weight }) => ({ ...claimData(claim), equals: equals.map(claimData), weight })),
    trials: trials.slice(0, mostTrials).map(trialData),
    untold: untold.map(({ claims, lookFor }) => ({
      explanations: claims.map(claimData),
      lookFor: lookFor?.map(entryData) ?? null,
    })),
    shelf: {
      patients: shelf.patients.length,
      donors: shelf.donors.length,
      leftOut: Object.fromEntries(shelf.leftOut),
    },
    isCut: looked.isCut || looked.looked < shelf.donors.length,
  };
}

function claimData({ condition, holds }: Claim): object {
  return { condition, holds };
}

function entryData({ atom, wanted }: Entry): object {
  switch (atom.test) {
    case 'same':
      return { same: atom.key, wanted };
    case 'rom_travels':
      return { romTravels: true, wanted };
    case 'side':
      return { side: atom.side, key: atom.key, value: 'anyOf' in atom.accepts ? atom.accepts.anyOf[0] : null, wanted };
  }
}

function trialData({ swap, swaps, information, works, after }: PlannedTrial): object {
  return {
    patient: swap.patient.drive.id,
    donor: swap.donor.drive.id,
    rom: swap.outcome.data.rom ?? null,
    romTravels: romTravels(swap) ?? null,
    ...{ swaps, information, works },
    ifWorks: beliefData(after('works')),
    ifFails: beliefData(after('fails')),
  };
}

function beliefData({ candidates, none }: Belief): object {
  return { noneOfThese: none, explanations: candidates.slice(0, mostExplanations) };
}
