import { identityIntents } from '../core/captures/identity-intents.ts';
import { type TraceResult, traceOf } from '../core/captures/trace.ts';
import { readTraced } from '../core/captures/traced-capture.ts';
import { planEdits } from '../core/edits/plan-edits.ts';
import { isRefusal, type Refusal } from '../core/edits/text-edit.ts';
import type { OutcomeRecord } from '../core/model/record.ts';
import { traceDocument } from '../core/reports/trace.ts';
import { limits } from '../core/syntax/limits.ts';
import { visible } from '../core/text/visible.ts';
import { type TraceSubject, traceOutcome } from '../core/verdicts/trace-outcome.ts';
import { writeEdits } from '../host/disk/write-edits.ts';
import { reasonOf } from '../host/system-reason.ts';
import { type Arguments, type Command, folderOption, jsonOption, noCacheOption, type Program } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { notRecorded } from './not-recorded.ts';
import { type OpenBase, openOneBase, readTapes, shownFile, shownPath } from './open-base.ts';
import { readSerials, serialsOfBase, serialsOption } from './read-serials.ts';
import { readSomeBytes } from './read-some-bytes.ts';
import { type Terminal, toJsonText } from './terminal.ts';

/** Options that name a capture, by what it is of. */
const captureOptions = [
  { role: 'patientBefore', name: 'patient-before', describe: 'What the patient reported on its own board.' },
  { role: 'donorBefore', name: 'donor-before', describe: 'What the donor reported as a complete drive.' },
  { role: 'after', name: 'after', describe: "What the patient's platters reported through the donor's board." },
  {
    role: 'otherAfter',
    name: 'other-after',
    describe: "What the donor's platters reported through the patient's board.",
  },
] as const;

/** `swaplore trace`: which values followed the platters, and which the board. */
export const trace: Command = {
  name: 'trace',
  takes: '',
  positionals: { min: 0, max: 0 },
  describe:
    'Tell from captures before and after a swap which values followed the platters and which the board: from files (raw answers or capture files), or from those an outcome names.',
  options: [
    ...captureOptions.map(({ name, describe }) => ({ name, value: 'FILE', describe })),
    { name: 'outcome', value: 'ID', describe: 'Take the captures that this outcome names, instead of files.' },
    { name: 'write', describe: "Add what was reported to the outcome's identity rows; what stands there stays." },
    serialsOption,
    folderOption,
    jsonOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const id = args.values['outcome'];
    if (typeof id !== 'string') return traceFiles(args, terminal, program);
    const given = captureOptions.find(({ name }) => args.values[name] !== undefined);
    if (given)
      throw new UsageError(`--outcome and --${given.name} cannot both be given.`, 'Name an outcome, or files.');
    return traceRecorded(id, args, terminal, program);
  },
};

async function traceFiles(args: Arguments, terminal: Terminal, program: Program): Promise<number> {
  if (args.values['write'] === true)
    throw new UsageError('--write needs --outcome.', 'Name the outcome to write into.');
  for (const name of ['patient-before', 'after']) {
    if (args.values[name] === undefined) {
      throw new UsageError(`trace needs --${name}, or --outcome.`, 'Name the files of the captures, or an outcome.');
    }
  }
  const inBase = await serialsOfBase(args, terminal);
  const serials = readSerials(args, program, { inBase, otherwise: 'Nothing was traced.' });
  const captures = Object.fromEntries(
    captureOptions.flatMap(({ role, name }) => {
      const path = args.values[name];
      if (typeof path !== 'string') return [];
      return [[role, readTraced(readSomeBytes(path, limits.fileBytes + 1, terminal))]];
    }),
  );
  return show(traceOf(captures, { serials }), {}, args, terminal);
}

async function traceRecorded(id: string, args: Arguments, terminal: Terminal, program: Program): Promise<number> {
  const base = await openOneBase(args, terminal, program);
  const { snapshot } = base;
  const serials = readSerials(args, program, { inBase: snapshot.config.serials, otherwise: 'Nothing was traced.' });
  const outcome = getOutcome(id, base);
  const traced = traceOutcome(outcome, snapshot, serials);
  if (!traced) throw new UsageError(`Outcome \`${id}\` names no capture.`, 'Name the files under its captures.');
  const { result, subject } = traced;
  const code = show(result, subject, args, terminal);
  if (args.values['write'] === true) await write(outcome, result, { base, args, terminal });
  return code;
}

function getOutcome(id: string, { snapshot }: OpenBase): OutcomeRecord {
  const outcome = snapshot.find('outcome', id);
  if (outcome) return outcome;
  throw notRecorded('outcome', id, snapshot);
}

/** Prints the result and gives the exit code. */
function show(result: TraceResult, subject: TraceSubject, args: Arguments, terminal: Terminal): number {
  if (args.values['json'] === true) terminal.out(toJsonText(result));
  else {
    terminal.out(documentText(traceDocument(result, subject), terminal));
  }
  return result.problems.some(({ severity }) => severity === 'error') ? exitCodes.findings : exitCodes.clean;
}

interface Writing {
  readonly base: OpenBase;
  readonly args: Arguments;
  readonly terminal: Terminal;
}

/** Adds the rows to the outcome's file and says so. Throws `UsageError` where nothing can be written. */
async function write(outcome: OutcomeRecord, result: TraceResult, { base, args, terminal }: Writing): Promise<void> {
  const { file, document } = base.snapshot.locate(outcome);
  const shown = visible(shownFile(shownPath(base.root, terminal), file.path));
  // With --json, standard output is for data alone.
  const say = (text: string): void => (args.values['json'] === true ? terminal.err : terminal.out)(`\n${text}\n`);
  const refuse = ({ refused }: Refusal): UsageError => new UsageError(refused, `Nothing was written to ${shown}.`);
  if (result.problems.some(({ severity }) => severity === 'error')) {
    say(`Nothing was written to ${shown}, since the captures cannot be relied on.`);
    return;
  }
  const intents = identityIntents({ outcome, document }, result);
  if (isRefusal(intents)) throw refuse(intents);
  if (intents.length === 0) {
    say(`All of it stands in ${shown} already.`);
    return;
  }
  const tape = (await readTapes(base.root, new Map([[file.path, file.contentId]]))).get(file.path);
  if (!tape) throw refuse({ refused: 'The file cannot be read.' });
  const planned = planEdits({ tape, contentId: file.contentId }, intents);
  if (isRefusal(planned)) throw refuse(planned);
  let refused: Refusal | undefined;
  try {
    refused = writeEdits(base.root, { file: file.path, ...planned });
  } catch (error) {
    throw refuse({ refused: `${shown} cannot be written: ${reasonOf(error)}.` });
  }
  if (refused) throw refuse(refused);
  say(`Identity rows written to ${shown}.`);
}
