import { singlePage } from '../../core/reports/single-page.ts';
import { traceDocument } from '../../core/reports/trace.ts';
import { shortName } from '../../core/text/short-name.ts';
import { traceOutcome } from '../../core/verdicts/trace-outcome.ts';
import { defineFeature } from '../feature.ts';
import { traceRequest } from '../protocol.ts';
import { refused } from '../refused.ts';
import { requireNonce } from '../require-nonce.ts';
import { usableBase } from '../usable-base.ts';

/** The captures of an outcome traced, as a page for a panel. */
export const trace = defineFeature({
  request: traceRequest,
  capabilities: () => ({}),
  answer: async ({ outcome: id, uri, nonce }, context) => {
    requireNonce(nonce);
    const { snapshot } = await usableBase(uri, context);
    const outcome = snapshot.find('outcome', id);
    if (!outcome) throw refused(`There is no outcome \`${shortName(id)}\`.`);
    const traced = traceOutcome(outcome, snapshot);
    if (!traced) throw refused(`Outcome \`${shortName(id)}\` names no capture.`);
    const html = singlePage(traceDocument(traced.result, traced.subject), { kind: 'panel', nonce });
    return { title: `Trace: ${shortName(id)}`, html, places: [] };
  },
});
