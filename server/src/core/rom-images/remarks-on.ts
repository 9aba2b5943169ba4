import { donorRemarks } from './donor-remarks.ts';
import type { Remark } from './image-case.ts';
import type { ImagesFacts } from './images-facts.ts';
import { patientRemarks } from './patient-remarks.ts';
import { readRemarks } from './read-remarks.ts';

/** What there is to say of images, in the order in which it weighs: what is not to be done first. The first is the verdict. */
export function remarksOn(facts: ImagesFacts): readonly [Remark, ...Remark[]] {
  const { against, good } = patientRemarks(facts);
  const all = [...readRemarks(facts), ...against, ...donorRemarks(facts), ...good];
  const isError = ({ severity }: Remark): boolean => severity === 'error';
  const [first, ...others] = [...all.filter(isError), ...all.filter((remark) => !isError(remark))];
  if (!first) throw new Error('no case fits these images');
  return [first, ...others];
}
