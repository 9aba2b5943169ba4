import { baseMeant } from '../bases-meant.ts';
import { defineFeature } from '../feature.ts';
import { branchesRequest } from '../protocol.ts';

/** The branches that a base may be reviewed against. */
export const branches = defineFeature({
  request: branchesRequest,
  capabilities: () => ({}),
  answer: async ({ uri }, { allBases, revisionsOf }) => {
    const base = baseMeant(await allBases(), uri);
    const found = await revisionsOf(base)?.branches(base.root);
    if (!found) return { names: [], reason: 'The history of these files cannot be read here.' };
    return 'reason' in found ? { names: [], reason: found.reason } : { names: found };
  },
});
