import type { Severity } from '../terms/severities.ts';

/** What is to be said of images, in one sentence, and what to do. */
export interface Said {
  readonly message: string;
  /** Undefined where nothing is to be done. */
  readonly help?: string | undefined;
}

/** A case images can be in. At error level something is not to be done: writing the image, or powering the board. */
export interface ImageCase<Images> {
  readonly case: string;
  readonly severity: Severity;
  /** What is said of images in this case; undefined where they are not. */
  readonly says: (images: Images) => Said | undefined;
}

/** A case that images are in. */
export interface Remark extends Said {
  readonly case: string;
  readonly severity: Severity;
}

/** What is said by every case that images are in, in the order of the cases. */
export function remarksOf<Images>(cases: readonly ImageCase<Images>[], images: Images): readonly Remark[] {
  return cases.flatMap(({ case: name, severity, says }) => {
    const said = says(images);
    return said ? { case: name, severity, ...said } : [];
  });
}

/** What the first case says that images are in, where one cause would show in several. */
export function firstRemark<Images>(cases: readonly ImageCase<Images>[], images: Images): readonly Remark[] {
  for (const { case: name, severity, says } of cases) {
    const said = says(images);
    if (said) return [{ case: name, severity, ...said }];
  }
  return [];
}
