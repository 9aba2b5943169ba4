import { type Day, formatDate } from '../terms/calendar.ts';
import { type Kind, pluralOf } from '../terms/kinds.ts';
import type { NewFile } from './new-file.ts';

/** Years by which the example's drives are older than the day the base is made. */
const ageYears = 8;

/**
 * One swap of an invented maker's drives as records, with at least one of every kind. Comments say what each is for and what to replace.
 * The days are counted back from `today`, so that nothing lies ahead. Texts, since comments are half of them.
 */
export function exampleRecords(today: Day): readonly NewFile[] {
  const date = formatDate(today);
  const year = Number(date.slice(0, 4)) - ageYears;
  return [
    recordFile('maker', 'ostry', maker),
    recordFile('family', 'ravelin-3', familyMadeIn(year)),
    recordFile('board', 'odw-7210', board),
    recordFile('drive', 'd-0001', patient(date, year)),
    recordFile('drive', 'd-0002', donor(date, year)),
    recordFile('outcome', `${date}-ravelin-1-2`, outcomeOn(date)),
    recordFile('rule', 'ravelin-own-rom-travels', rule),
  ];
}

function recordFile(kind: Kind, id: string, body: string): NewFile {
  const [comments = '', ...rest] = body.split(/^(?=[^#])/m);
  return { path: `${pluralOf(kind)}/${id}.yaml`, text: `${comments}kind: ${kind}\nid: ${id}\n${rest.join('')}` };
}

const maker = `# Example, invented. A maker: who built the drives, and how their labels are to be read.
# Replace every value. The id is how families and boards name this maker; \`swaplore key maker\` explains each key.
name: Ostry Data Works
date_code: # how dates of manufacture are printed; several entries where that changed over the years
  - { scheme: calendar, format: MM.YYYY }
label: # captions on the label, and the key that takes what stands beside each
  - printed_as: HSC
    key: head_stack_code
    meaning: The letter is the variant of the preamp, the figure a lot.
`;

function familyMadeIn(year: number): string {
  return `# Example, invented. A family: drives built on one platform. What has to travel with a board is decided here.
# Replace every value, and leave out what is not known. \`swaplore key family\` explains each key.
maker: ostry
name: Ravelin 3
models: ["RV3-*"] # as printed; a star stands for any characters
form_factor: 3.5in
interface: sata
capacities_gb: [500, 1000]
heads: { min: 1, max: 4 }
made: { from: ${year - 1}, to: ${year + 1} }
encryption: none # where drives encrypt, find out which part holds the key before any board is moved
# Where the data lies that fits the electronics to one unit's heads, and how the shop knows.
adaptives: { stored_in: rom_chip, basis: measured }
`;
}

const board = `# Example, invented. A board: one part number with all its revisions, as they are marked in copper.
# Replace every value. Copy markings from the board itself; stickers and lists on the web are often of another revision.
maker: ostry
part_number: ODW-7210
families: [ravelin-3]
interface: sata
revisions: # one entry for each mark met
  - rev: A
    controller: PKT5031-A
    motor_driver: SGM88
    contact_pads: 20
    roms: # measure the supply before a clip goes on: 1.8 V chips die at 3.3 V
      - { location: U6, package: soic8_208mil, bytes: 524288, volts: 3.3, holds: [code, adaptives] }
  - rev: B
    controller: PKT5031-A
    motor_driver: SGM88
    contact_pads: 20
    drop_in_for: [A] # a claim, and outcomes are held against it: write it down once a swap has shown it
    roms:
      - { location: U6, package: soic8_208mil, bytes: 524288, volts: 3.3, holds: [code, adaptives] }
`;

function patient(date: string, year: number): string {
  return `# Example, invented. A drive: one unit in the shop. This one is the patient of the example's outcome.
# Replace every value with what label, board and host say. What is not known is left out, never guessed.
# Measure before power: on a shorted line or motor the next board dies too.
family: ravelin-3
model: RV3-0500
firmware: RA12
serial: "****7K2M" # the last characters only: the whole of it leads to the owner
made: ${year}-05
date_code: "05.${year}" # as printed; compared with \`made\`
capacity_gb: 500
heads: 2
power_on_hours: 9120
board: { id: odw-7210, rev: A } # the one it was built with, whichever is fitted now
rom_image: # read twice and compared; the image belongs to the customer and stays out of git, its checksum stands here
  sha256: 8c1f3e07a95bd2644ef0917b3ad86c25f19e40b7d3528a6c0e7f94d1b62a5083
examined: # what was measured without power, an entry for each time
  - { on: ${date}, supply_5v: ok, supply_12v: ok, motor_windings: ok, head_lines: ok, parts_burnt: false }
data: test # \`wanted\` where anybody wants it; left out, it counts as wanted
shelf: { place: "drawer 1", spare: false }
`;
}

function donor(date: string, year: number): string {
  return `# Example, invented. The donor of the example's outcome: the drive whose board was lent.
# Replace every value, as in the record of the patient.
family: ravelin-3
model: RV3-0500
firmware: RA12
serial: "****3D9X"
made: ${year}-06
date_code: "06.${year}"
capacity_gb: 500
heads: 2
power_on_hours: 4310
board: { id: odw-7210, rev: B }
rom_image: # the donor's as well, so that its board can be put right again
  sha256: 27d5b0e8413f6a9c8d02e7b45f1a3c96e0847bd15293fc6a7b1e0d48f5c2a639
condition: { board: good, media: good, as_of: ${date} } # how its halves are now
data: none
shelf: { place: "drawer 1", spare: true }
`;
}

function outcomeOn(date: string): string {
  return `# Example, invented. An outcome: one assembly that was tried, written down on the day, whether it worked or not.
# Replace every value. \`swaplore key outcome\` lists the keys, \`swaplore key outcome.reached\` the stages.
# - If the data matters to anyone, stop: every attempt can lower the chance. A recovery lab is the place for it.
# - On wanted data, never try the donor's board with its own ROM first, and run no test that writes.
# - Read both ROMs twice and compare before one is moved or written; keep the original chip and both images.
# - Cut the power at once where it grinds, and do not let it go on clicking or beeping.
date: ${date}
by: bench-1
purpose: trial
patient: d-0001 # gives the head-disk assembly
donor: d-0002 # gives the board
rom: chip_moved # what was done so that the patient's own data travels with the board
rom_proved: worked_after
host: { name: bench-1, port: onboard }
controls: # without them a failure proves nothing: board or platters may have been dead before
  donor_on_own_board: works
  patient_on_own_board: works
  swapped_back: both_work
observed: # what was seen and heard, not what was made of it
  spins: true
  sound: normal
  powered_minutes: 25
  host_state: ready
  detected: true
  identity_right: true
  capacity_right: true
  reads: true
  content: sensible
reached: reads # the highest stage that was seen
result: works # \`inconclusive\` where a control is missing and it did not work
notes: What a colleague would want to know before trying the same, in a sentence or two.
`;
}

const rule = `# Example, invented. A rule: what the bench goes by, as a claim that every outcome is held against.
# Replace every value. A rule tells what has been seen so far; it promises nothing for the next drive.
# This one is a law, which a single outcome can break. With \`at_least: 0.8\` it would be a rate.
applies_to: { families: [ravelin-3] }
claim: needs # without what \`when\` says it does not work; \`swaplore key rule.claim\` has the other claims
when: { rom_travels: true, revision: drop_in }
basis: common_practice # how the shop came to believe it; \`measured\` once trials have shown it
because: >-
  The ROM chip holds what was measured when these heads were first run. With another
  unit's data, or on an issue laid out differently, the heads do not find their tracks.
`;
