import { recordBrief } from '../features/record-brief.ts';
import { type DriveRecord, isRetracted, type OutcomeRecord } from '../model/record.ts';
import { formatDate } from '../terms/calendar.ts';
import { isAtLeast } from '../terms/stages.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { quotedList } from '../text/quoted-list.ts';
import { evidenceOf, type Verdict } from '../verdicts/evidence.ts';
import { highestObserved } from '../verdicts/observed-limits.ts';
import type { Bench } from './bench.ts';
import { draftFile } from './draft-file.ts';
import type { Choice } from './question.ts';
import type { Step } from './step.ts';

/** How an outcome is recorded: in the order in which things happen at the bench. */
export const outcomeSteps: readonly Step[] = [
  { name: 'date', asks: 'On which day was the assembly tried?', usual: ({ today }) => formatDate(today) },
  {
    name: 'patient',
    asks: 'Which drive gives the head-disk assembly?',
    choices: ({ snapshot }) => drivesWith(snapshot.records('drive'), 'board_only'),
  },
  { name: 'donor', asks: 'Which drive or loose board gives the board?', choices: donors },
  { name: 'purpose', asks: 'Was it a trial, or was it to get data back?', usual: likelyPurpose },
  { name: 'by', asks: 'Who did the swap?', usual: (bench) => latest(bench, ({ by }) => by !== undefined)?.data.by },
  {
    name: 'controls.donor_on_own_board',
    asks: 'How did the donor do on its own board, on this host and port?',
    isAsked: (bench) => bench.drive('donor')?.data.parts !== 'board_only',
  },
  {
    name: 'controls.patient_on_own_board',
    asks: 'How did the patient do on its own board, on this host and port?',
    isAsked: (bench) => bench.drive('patient')?.data.parts !== 'hda_only',
  },
  { name: 'rom', asks: "What was done so that the patient's own data travels with the board?" },
  {
    name: 'rom_proved',
    asks: 'What shows that the ROM data really arrived?',
    isAsked: (bench) => bench.list('rom').some((step) => step !== 'left' && step !== 'not_fitted'),
  },
  {
    name: 'host.name',
    asks: 'On which computer was it tried?',
    usual: (bench) => latest(bench, ({ host }) => host?.name !== undefined)?.data.host?.name,
  },
  { name: 'host.port', asks: 'What was the drive plugged into?', usual: usualPort },
  {
    name: 'host.meets',
    asks: 'Which of these does that host meet?',
    isAsked: (bench) => needsOfBoth(bench).length > 0,
    usual: usualMeets,
    adds: (bench) => `The two families need ${quotedList(needsOfBoth(bench))}.`,
  },
  { name: 'observed.spins', asks: 'Does it spin up?' },
  { name: 'observed.sound', asks: 'What is the most worrying sound?' },
  { name: 'observed.stops_again', asks: 'Does it stop again by itself?', isAsked: isNot('observed.spins', false) },
  { name: 'observed.powered_minutes', asks: 'For how many minutes did it have power, all attempts together?' },
  { name: 'observed.host_state', asks: "What did the drive's status say in the end?" },
  { name: 'observed.detected', asks: 'Does the host list the drive itself?' },
  {
    name: 'observed.identity_right',
    asks: 'Does it give its own full model name?',
    isAsked: isNot('observed.detected', false),
  },
  {
    name: 'observed.capacity_right',
    asks: "Does the host show the patient's full size?",
    isAsked: isNot('observed.detected', false),
  },
  {
    name: 'observed.locked',
    asks: 'Does it refuse access without a password or key?',
    isAsked: isNot('observed.detected', false),
  },
  {
    name: 'observed.reads',
    asks: 'Do sectors come back from the start, the middle and the end?',
    isAsked: isNot('observed.detected', false),
  },
  { name: 'observed.content', asks: 'Does what was read show structure?', isAsked: doesRead },
  { name: 'verify.0.method', asks: 'How was the content compared?', isAsked: doesRead },
  { name: 'verify.0.bytes', asks: 'How many bytes were compared?', isAsked: isVerified },
  { name: 'verify.0.errors', asks: 'With how many errors, repaired ones included?', isAsked: isVerified },
  { name: 'verify.0.minutes', asks: 'How many minutes did that take?', isAsked: isVerified },
  { name: 'verify.0.where', asks: 'Which part of the drive was compared?', isAsked: isVerified },
  {
    name: 'verify.0.read_only',
    asks: 'Was it kept from writing?',
    isAsked: (bench) => bench.text('verify.0.method') === 'checksum_scrub',
  },
  { name: 'controls.swapped_back', asks: 'And with each board back on its own drive?' },
  {
    name: 'controls.hda_proved_by',
    asks: "Which other outcome shows the patient's platters good?",
    isAsked: (bench) => proofs(bench).length > 0 && !isPatientProved(bench),
    choices: (bench) => proofs(bench).map((proof) => ({ value: proof.id, detail: recordBrief(proof) })),
  },
  { name: 'reached', asks: 'What is the highest stage that was seen?', usual: observedStage },
  { name: 'result', asks: 'Did it work, going by what is recorded?', usual: derivedResult, adds: whyInconclusive },
  { name: 'notes', asks: 'Is there anything else to know?' },
];

function isNot(name: string, value: boolean): (bench: Bench) => boolean {
  return (bench) => bench.answer(name) !== value;
}

function doesRead(bench: Bench): boolean {
  const reads = bench.answer('observed.reads');
  return reads === true || reads === 'partly';
}

function isVerified(bench: Bench): boolean {
  return bench.text('verify.0.method') !== undefined;
}

/** Drives without those of which only the other half is there. */
function drivesWith(drives: readonly DriveRecord[], lacking: 'board_only' | 'hda_only'): readonly Choice[] {
  return drives
    .filter((drive) => !isRetracted(drive) && drive.data.parts !== lacking)
    .map((drive) => ({ value: drive.id, detail: recordBrief(drive) }));
}

/** All that have a board to give, those of the patient's family first, of these the spare ones. */
function donors(bench: Bench): readonly Choice[] {
  const patient = bench.drive('patient');
  const rank = ({ data }: DriveRecord): number =>
    (data.family === patient?.data.family ? 0 : 2) + (data.shelf?.spare === true ? 0 : 1);
  const others = bench.snapshot.records('drive').filter((drive) => drive !== patient);
  return drivesWith(
    others.toSorted((a, b) => rank(a) - rank(b)),
    'hda_only',
  );
}

/** Data that nobody has spoken of is treated as wanted. */
function likelyPurpose(bench: Bench): string | undefined {
  const data = bench.drive('patient')?.data.data;
  return data === 'test' || data === 'none' ? 'trial' : undefined;
}

/** The newest outcome of which something holds. */
function latest({ snapshot }: Bench, holds: (data: OutcomeRecord['data']) => boolean): OutcomeRecord | undefined {
  let last: OutcomeRecord | undefined;
  for (const outcome of snapshot.records('outcome')) {
    if (holds(outcome.data) && byCodeUnits(outcome.data.date ?? '', last?.data.date ?? '') >= 0) last = outcome;
  }
  return last;
}

/** The last outcome on the same computer. */
function lastOnHost(bench: Bench): OutcomeRecord | undefined {
  const name = bench.text('host.name');
  return name === undefined ? undefined : latest(bench, ({ host }) => host?.name === name);
}

function usualPort(bench: Bench): string | undefined {
  return lastOnHost(bench)?.data.host?.port;
}

/** What the same computer met on the same port before, of what is needed here. */
function usualMeets(bench: Bench): readonly string[] | undefined {
  const last = lastOnHost(bench)?.data.host;
  if (last?.meets === undefined || last.port !== bench.text('host.port')) return undefined;
  return last.meets.filter((need) => needsOfBoth(bench).includes(need));
}

function needsOfBoth(bench: Bench): readonly string[] {
  const needs = ['patient', 'donor'].flatMap((name) => bench.familyOf(name)?.data.host_needs ?? []);
  return [...new Set(needs)];
}

/** Outcomes that show the patient's platters good at the stage that counts as working, the latest first. */
function proofs(bench: Bench): readonly OutcomeRecord[] {
  const { snapshot } = bench;
  const patient = bench.text('patient');
  return snapshot.records('outcome').filter((outcome) => {
    const { patient: other, reached } = outcome.data;
    if (other === undefined || other !== patient || reached === undefined || isRetracted(outcome)) return false;
    return isAtLeast(reached, snapshot.config.worksAt);
  });
}

function isPatientProved(bench: Bench): boolean {
  const own = bench.text('controls.patient_on_own_board');
  return own === 'works' || own === 'verified' || bench.text('controls.swapped_back') === 'both_work';
}

function observedStage({ answers }: Bench): string | undefined {
  const { record } = draftFile('outcome', answers);
  return record?.kind === 'outcome' ? highestObserved(record.data.observed ?? {}) : undefined;
}

/** What the outcome is evidence of, as far as it is recorded. */
function draftVerdict({ snapshot, answers }: Bench): Verdict | undefined {
  const { file } = draftFile('outcome', answers);
  const drafted = snapshot.with([{ path: file.path, file }]);
  const outcome = drafted.find('outcome', file.facts.records[0]?.record.id);
  return outcome && evidenceOf(outcome, drafted).verdicts[snapshot.config.worksAt];
}

function derivedResult(bench: Bench): string | undefined {
  return bench.text('reached') === undefined ? undefined : draftVerdict(bench)?.result;
}

function whyInconclusive(bench: Bench): string | undefined {
  const verdict = bench.text('reached') === undefined ? undefined : draftVerdict(bench);
  if (verdict?.result !== 'inconclusive') return undefined;
  return `So far it proves nothing, for ${verdict.missing.map(({ says }) => says).join('; ')}.`;
}
