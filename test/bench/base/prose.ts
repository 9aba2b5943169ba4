import type { Random } from './random.ts';
import { type TextStyle, wrap } from './record-writer.ts';

/** What a note may be about. */
export type Topic = 'maker' | 'family' | 'board' | 'drive' | 'works' | 'fails' | 'rule' | 'bench';

/** Sentences by topic. A word in angle brackets is replaced by one of its list. None holds `: ` or ` #`, so all may stand plain. */
const sentences: Readonly<Record<Topic, readonly string[]>> = {
  maker: [
    'Plant codes were reused after the move, so the year decides which <place> is meant.',
    'Labels from the last <number> years carry a second code that only their own service desk could read.',
    'Boards turn up in <machine> pulls, where nobody has been at them with an iron.',
    'Their data sheets give the pads but never the chip markings, hence the many photographs in our files.',
    'Refurbished units left the plant with whatever sticker was at hand; trust the copper.',
  ],
  family: [
    'Sold for <number> years under several names, all of them with the same mechanism.',
    'Most of those we see come out of a <machine> and have run without a break.',
    'The smallest model has one head and a shorter flex, yet takes the same board.',
    'Servo data was checked on <number> units by reading the chip before and after a week of use.',
    'Late units spin up a good deal slower, which bridges of the cheap kind do not wait for.',
    'What stands here was found on our own bench; the manual is silent about it.',
    'Owners call with a burnt smell after a wrong <supply>, hardly ever with anything else.',
  ],
  board: [
    'Pads were counted under the loupe, and again on the photograph.',
    'The coil beside the plug sits upright on the later issue, which is the quickest way to tell them apart.',
    'Clean the thermal paste off first, the marking of the big chip is under it.',
    'One land next to the chip is easily lifted, so use the <tool> and be patient.',
    'Of <number> loose boards from a <machine>, all but one came up on a test mechanism.',
    'The fuse near the plug is the usual victim; its value is printed on the other side.',
    'Two issues were on the line side by side for a while, so the week proves nothing.',
    'Where the later issue stands in for the earlier, we have tried it on <number> drives.',
  ],
  drive: [
    'Came out of a <machine> with the screws untouched.',
    'Label torn at a corner, but everything of use can be read.',
    'Lid shows a dent over the <place>, the spindle runs free all the same.',
    'Contacts wiped with a glass brush before anything was measured.',
    'Owner tried it on <number> computers before it came to us.',
    'Kept as a reference for the <place>, so please put it back.',
    'Had a second look after the winter and found nothing new.',
    'Belongs to the lot of <number> that <person> brought from the auction.',
    'Runs a little warm on the left side, as all of this lot do.',
    'The bag says tested, without saying by whom.',
  ],
  works: [
    'Came up at the first try and stayed up while <person> had lunch.',
    'Chip across with the <tool> in one go, lands clean, no bridge.',
    'Read from both ends and the middle before anything else was asked of it.',
    'The list of sums from the last backup was at hand, so we compared more than we had to.',
    'No knock, no second start, nothing in the log but our own commands.',
    'Temperature stayed below <number> degrees with the small fan on it.',
    'Boards went home the same evening, and both drives were tried once more.',
    'We kept the cover on the <place> all the time, dust being what it is here.',
    'Took an hour, most of it spent looking for the right screwdriver.',
    'As dull as a swap can be, which is how <person> likes them.',
  ],
  fails: [
    'Same sound at every start, then quiet; we stopped after <number> tries.',
    'Measured everything again with the <tool>, and every line was as it should be.',
    'The host waits, gives up, and waits again.',
    'Nothing warm, nothing smelling, so the board at least is not shorted.',
    'Put back as it was the next morning, and <person> wrote the times down.',
    'We had expected this, and did it for the record.',
    'No use in leaving it powered; whatever it looks for, it does not find.',
    'A look at the <place> with the camera showed heads where they belong.',
    'The log has the same line over and over, until the link drops.',
  ],
  rule: [
    'Seen on <number> units before it was written down here.',
    'Nobody on this bench has met the opposite, though some claim to have heard of it.',
    'The first to say so was <person>, on the ground of a single pair.',
    'It stands or falls with the next drive from the <place>.',
    'Whoever finds a case against it should first look at the contacts.',
    'Decided by a pair of trials with everything else left as it was.',
    'The manual says much the same, in other words and for the family before.',
    'Before <number> we would not have dared to write this without a question mark.',
  ],
  bench: [
    'See the bench book, page <number>.',
    'Photographs lie in the box of that week.',
    'Times were taken with the kitchen clock.',
    'Asked <person>, who remembers it the same way.',
    'Supply was the <supply> with the current limit set low.',
    'Humidity was high that day, straps were worn.',
  ],
};

const words: Readonly<Record<string, readonly string[]>> = {
  place: ['left shelf', 'rear bracket', 'second bay', 'flex cable', 'spindle side', 'lower rack', 'filter hole'],
  machine: [
    'photocopier',
    'video recorder',
    'set-top box',
    'file server',
    'till',
    'laboratory scale',
    'ticket printer',
  ],
  tool: ['hot air at low speed', 'fine tweezers', 'new clip', 'old meter', 'preheater', 'small iron'],
  person: ['Ada', 'Borje', 'Chidi', 'Dagny', 'Emil', 'Farah', 'Goran', 'Hanne'],
  supply: ['grey supply', 'bench supply', 'adapter', '12 V brick', 'long cable'],
};

/** Paragraphs about a topic that fill at most `lines` lines of text, blank lines between them included; at least one sentence. */
export function writeNotes(random: Random, topics: readonly Topic[], lines: number, room = 74): readonly string[] {
  const paragraphs: string[] = [];
  const unused = topics.flatMap((topic) => [...sentences[topic]]);
  let text = '';
  let used = 0;
  while (unused.length > 0) {
    const [sentence = ''] = unused.splice(random.integer(0, unused.length - 1), 1);
    const longer = text === '' ? filled(sentence, random) : `${text} ${filled(sentence, random)}`;
    if (used + wrap(longer, room).length > lines && (text !== '' || used > 0)) continue;
    text = longer;
    const height = wrap(text, room).length;
    if (height >= 2 && random.chance(0.45) && used + height + 2 <= lines) {
      paragraphs.push(text);
      used += height + 1;
      text = '';
    }
  }
  return text === '' ? paragraphs : [...paragraphs, text];
}

/** How a note is written: mostly in a block, seldom without any mark. */
export function pickNoteStyle(random: Random): TextStyle {
  return random.weighted<TextStyle>([
    [13, 'folded'],
    [6, 'literal'],
    [1, 'plain'],
  ]);
}

/** One sentence about a topic. */
export function writeSentence(random: Random, topic: Topic): string {
  return filled(random.pick(sentences[topic]), random);
}

/** A short remark behind or above a line. */
export function writeRemark(random: Random): string {
  return random.pick(remarks);
}

const remarks = [
  'as printed',
  'read twice',
  'second look on Monday',
  'checked against the photo',
  'from the bench book',
  'ink smeared, loupe needed',
  'same on both sides',
  'not the sticker, the copper',
  'asked again, same answer',
  'to the day, for once',
  'rounded up',
  'by the kitchen clock',
];

function filled(sentence: string, random: Random): string {
  return sentence.replace(/<(\w+)>/g, (_, name: string) => {
    const list = words[name];
    return list === undefined ? String(random.integer(3, 40)) : random.pick(list);
  });
}
