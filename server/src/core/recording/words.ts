/** What every way of asking says besides the questions. */
export const recordingWords = {
  goOn: 'go on',
  beginAnew: 'begin anew',
  typeNothing: 'nothing typed means not known',
  markNothing: 'None marked means not known.',
} as const;

/** The question that comes first where a recording was broken off. */
export function goOnQuestion(kind: string): string {
  return `Recording of the ${kind} was broken off; go on with it?`;
}
