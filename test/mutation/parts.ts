/** The folders of the core whose tests are tried. */
export const parts = ['conditions', 'verdicts', 'reasoning', 'odds', 'captures', 'rom-images', 'edits'] as const;

/** The tests they are tried with: folders of `test`. What starts processes or measures is left to `npm test`. */
export const tested = [
  ...parts,
  'checks',
  'donors',
  'explanations',
  'features',
  'importing',
  'index',
  'knowledge',
  'property',
  'recording',
  'reports',
  'review',
  'solver',
  'trials',
] as const;

/** Files among those that are long whatever the effort, start processes, or watch calls; others are left out as they turn out to be slow. */
export const tooSlow: ReadonlySet<string> = new Set([
  'base-cache.property.test.ts',
  'completion.test.ts',
  'coverage.test.ts',
  'export-files.property.test.ts',
  'faults.test.ts',
  'file-facts.property.test.ts',
  'joint-contradictions.property.test.ts',
  'laws.test.ts',
  'outside.test.ts',
  'rests-on.test.ts',
  'rule-relations.property.test.ts',
  'run-checks.property.test.ts',
  'sequences.property.test.ts',
]);
