import type { Scalar } from './schema.ts';

/** One value of a fixed choice, and what it means (empty where the schema does not say). */
export interface Choice {
  readonly value: Scalar;
  readonly meaning: string;
}

/** The shape a value may have, without the finer constraints. */
export type Form =
  | { readonly form: 'text' | 'integer' | 'number' | 'boolean' }
  | { readonly form: 'values'; readonly choices: readonly Choice[]; readonly name?: string }
  | { readonly form: 'map'; readonly node: string }
  /** A map whose keys are nobody's but the writer's. */
  | { readonly form: 'free-map' }
  | { readonly form: 'list'; readonly of: Form }
  | { readonly form: 'either'; readonly of: readonly Form[] };

/** The alternatives of a form, in order, none of them an `either`. */
export function listAlternatives(form: Form): readonly Form[] {
  return form.form === 'either' ? form.of.flatMap(listAlternatives) : [form];
}

/** The forms at the bottom of a form, lists and alternatives opened; in order, repeats kept. */
export function listLeaves(form: Form): readonly Exclude<Form, { form: 'list' | 'either' }>[] {
  if (form.form === 'either') return form.of.flatMap(listLeaves);
  return form.form === 'list' ? listLeaves(form.of) : [form];
}
