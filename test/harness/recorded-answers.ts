/** What somebody gives at a question: the item that is chosen, the items that are marked, or what is typed over what stands there. */
export type Given =
  | { readonly pick: string }
  | { readonly mark: readonly string[] }
  | { readonly type: string }
  | { readonly leave: true }
  | { readonly back: true };

/** An outcome of the demo base from the first question to the last, with one step back, in the words every way of recording asks in. */
export const recordedAnswers: readonly (readonly [asks: string, given: Given])[] = [
  ['On which day was the assembly tried?', { leave: true }],
  ['Which drive gives the head-disk assembly?', { pick: 'd-0312' }],
  ['Which drive or loose board gives the board?', { back: true }],
  ['Which drive gives the head-disk assembly?', { pick: 'd-0311' }],
  ['Which drive or loose board gives the board?', { pick: 'd-0312' }],
  ['Was it a trial, or was it to get data back?', { leave: true }],
  ['Who did the swap?', { type: 'bench-7' }],
  ['How did the donor do on its own board, on this host and port?', { pick: 'works' }],
  ['How did the patient do on its own board, on this host and port?', { pick: 'works' }],
  ["What was done so that the patient's own data travels with the board?", { mark: ['chip_moved'] }],
  ['What shows that the ROM data really arrived?', { pick: 'read_back' }],
  ['On which computer was it tried?', { type: 'bench-7' }],
  ['What was the drive plugged into?', { pick: 'onboard' }],
  ['Does it spin up?', { pick: 'yes' }],
  ['What is the most worrying sound?', { pick: 'clicking' }],
  ['Does it stop again by itself?', { pick: 'yes' }],
  ['For how many minutes did it have power, all attempts together?', { type: '0.3' }],
  ["What did the drive's status say in the end?", { pick: 'not known' }],
  ['Does the host list the drive itself?', { pick: 'no' }],
  ['And with each board back on its own drive?', { pick: 'both_work' }],
  ['What is the highest stage that was seen?', { leave: true }],
  ['Did it work, going by what is recorded?', { leave: true }],
  ['Is there anything else to know?', { type: 'Recorded by a test.' }],
];

/** The record they come to, without its first two lines and its date. */
export const recordedText = `by: bench-7
purpose: trial
patient: d-0311
donor: d-0312
rom: chip_moved
rom_proved: read_back
host: { name: bench-7, port: onboard }
controls:
  donor_on_own_board: works
  patient_on_own_board: works
  swapped_back: both_work
observed:
  spins: true
  stops_again: true
  sound: clicking
  powered_minutes: 0.3
  detected: false
reached: spins
result: fails
notes: Recorded by a test.
`;
