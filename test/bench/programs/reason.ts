// How long reasoning takes on a base that was just read: rules against outcomes, against each other, and jointly. Prints JSON.
import { jointResults } from '../../../server/src/core/reasoning/joint-contradictions.ts';
import { ruleRelations } from '../../../server/src/core/reasoning/rule-relations.ts';
import { ruleResults } from '../../../server/src/core/reasoning/rule-results.ts';
import { DiskBase } from '../../../server/src/host/disk/disk-base.ts';

const [folder = ''] = process.argv.slice(2);
const base = await DiskBase.survey(folder, { cache: undefined, loader: undefined });
const snapshot = await base.snapshot();
const start = process.hrtime.bigint();
ruleResults(snapshot);
ruleRelations(snapshot);
const groups = [...jointResults(snapshot)].length;
const ms = Number(process.hrtime.bigint() - start) / 1e6;
process.stdout.write(JSON.stringify({ ms, groups }));
