import { execFileSync } from 'node:child_process';
import { programs } from './programs.ts';

/** A Node program with its arguments. */
export interface Step {
  readonly args: readonly string[];
  readonly cwd: string;
  /** Variables it is given besides. */
  readonly env?: Readonly<Record<string, string>>;
}

/** What the measuring process is asked. */
export interface Measuring {
  readonly steps: readonly Step[];
  readonly preload: string;
}

/** What it answers: times of all steps together, memory of the largest. */
export interface Measurement {
  readonly ms: number;
  readonly cpuMs: number;
  readonly peakBytes: number;
  readonly exitCodes: readonly (number | null)[];
  /** The beginning of what the steps wrote to their error streams. */
  readonly errors: string;
}

/** Variables that make every Node start slower, or change what it does. */
const unwanted: ReadonlySet<string> = new Set(['NODE_EXTRA_CA_CERTS', 'NODE_OPTIONS', 'NODE_V8_COVERAGE', 'NODE_PATH']);

/** Runs whole processes one after the other and gives what they took. Throws where one ends with another code than allowed. */
export function measure(steps: readonly Step[], allowedExitCodes: readonly number[]): Measurement {
  const env = withoutUnwanted(process.env);
  const asked: Measuring = { steps, preload: programs.reportUsage };
  const answer = execFileSync(process.execPath, [programs.measureSteps, JSON.stringify(asked)], {
    env,
    encoding: 'utf8',
  });
  const measurement = JSON.parse(answer) as Measurement;
  if (measurement.exitCodes.some((code) => code === null || !allowedExitCodes.includes(code))) {
    const commands = steps.map((step) => step.args.join(' ')).join('\n');
    throw new Error(`Exit codes ${measurement.exitCodes.join(', ')} of\n${commands}\n${measurement.errors}`);
  }
  return measurement;
}

/** An environment without the variables that change what a Node takes. */
export function withoutUnwanted(env: NodeJS.ProcessEnv): NodeJS.ProcessEnv {
  return Object.fromEntries(Object.entries(env).filter(([name]) => !unwanted.has(name)));
}
