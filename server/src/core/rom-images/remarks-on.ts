import { donorCases } from './donor-cases.ts';
import type { ImageCase, Remark } from './image-case.ts';
import type { ImagesFacts } from './images-facts.ts';
import { goodCases, patientCases } from './patient-cases.ts';
import { readCases } from './read-cases.ts';

/** In the order in which they weigh: of those at error level the first is the verdict, else the first of all. */
const cases: readonly ImageCase[] = [...readCases, ...patientCases, ...donorCases, ...goodCases];

/** What there is to say of images, what is not to be done first. */
export function remarksOn(facts: ImagesFacts): readonly [Remark, ...Remark[]] {
  const all = cases.flatMap(({ case: name, severity, says }): Remark[] => {
    const said = says(facts);
    return said ? [{ case: name, severity, ...said }] : [];
  });
  const isError = ({ severity }: Remark): boolean => severity === 'error';
  const [first, ...others] = [...all.filter(isError), ...all.filter((remark) => !isError(remark))];
  if (!first) throw new Error('no case fits these images');
  return [first, ...others];
}
