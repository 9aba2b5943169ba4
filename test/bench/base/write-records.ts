import { dateFormats, fiscalYearStarts } from './manufacture.ts';
import { pickNoteStyle, type Topic, writeNotes, writeRemark, writeSentence } from './prose.ts';
import type { Random } from './random.ts';
import { RecordWriter } from './record-writer.ts';
import type { Rule } from './rules.ts';
import type { Board, Drive, Family, Maker, Revision } from './things.ts';
import { recentDay, writeSources } from './write-sources.ts';

/** A maker as the shop knows it. */
export function writeMaker(random: Random, maker: Maker): RecordWriter {
  const { scheme, format } = dateFormats[maker.scheme];
  const writer = new RecordWriter();
  writer.key('kind', 'maker');
  writer.key('id', maker.id);
  writer.key('name', maker.name);
  const oui = `${maker.oui.slice(0, 2)}-${maker.oui.slice(2, 4)}-${maker.oui.slice(4)}`;
  writer.text('x-trade', [writeSentence(random, 'maker')], 'plain');
  writer.rows('ouis', [oui]);
  writer.list('date_code', [
    (inner) => {
      inner.key('scheme', scheme);
      inner.key('format', format);
      if (scheme === 'fiscal_week') inner.key('fiscal_year_starts', fiscalYearStarts);
    },
  ]);
  const meanings = { CTRL: 'board', REL: 'firmware', PK: 'date_code', HGA: 'head_stack_code', 'P/N': 'part_number' };
  writer.list(
    'label',
    Object.entries(meanings).map(([printed, key]) => (inner: RecordWriter) => {
      inner.key('printed_as', printed);
      inner.key('key', key);
      inner.text('meaning', [writeSentence(random, 'bench')], random.pick(['plain', 'quoted', 'folded']));
    }),
  );
  writeSources(random, writer);
  writeRemarks(random, writer, ['maker', 'bench'], 44);
  return writer;
}

/** A family with all that is recorded of it. */
export function writeFamily(random: Random, family: Family): RecordWriter {
  const writer = new RecordWriter();
  writer.key('kind', 'family');
  writer.key('id', family.id);
  writer.key('maker', family.maker.id);
  writer.key('name', family.name);
  writer.key('models', [`${family.prefix}*`]);
  writer.key('form_factor', family.formFactor);
  writer.key('height_mm', family.formFactor === '2.5in' ? 9.5 : 26.1);
  writer.key('interface', family.interface, remark(random));
  writer.key('rpm', family.rpm);
  writer.key('recording', family.recording);
  writer.key('gas', 'air');
  writer.key('sector_bytes', { logical: 512, physical: family.recording === 'smr' ? 4096 : 512 });
  writer.key('capacities_gb', family.capacities);
  writer.key('heads', family.heads);
  writer.key('made', family.made, remark(random));
  writer.key('encryption', family.encryption);
  if (family.encryption !== 'none') writer.key('key_in', 'platters');
  if (family.isStoredInRecorded) {
    writer.map('adaptives', (inner) => {
      inner.key('stored_in', family.storedIn, remark(random));
      inner.key('basis', random.pick(['measured', 'common_practice']));
    });
  }
  if (family.hostNeeds.length > 0) writer.rows('host_needs', family.hostNeeds);
  writer.map('identity', (inner) => {
    for (const value of ['serial', 'wwn', 'model', 'capacity', 'power_on_hours', 'defect_counts'])
      inner.key(value, 'platters');
    inner.key('firmware', family.firmwareFollows);
  });
  if (random.chance(0.5)) writeSources(random, writer);
  writeRemarks(random, writer, ['family', 'bench'], random.integer(41, 50));
  return writer;
}

/** A board with its revisions. */
export function writeBoard(random: Random, board: Board): RecordWriter {
  const writer = new RecordWriter();
  if (random.chance(0.2)) writer.comment(writeSentence(random, 'bench'));
  writer.key('kind', 'board');
  writer.key('id', board.id);
  writer.key('maker', board.family.maker.id);
  writer.key('part_number', board.partNumber, remark(random));
  writer.key('families', [board.family.id]);
  writer.key('interface', board.family.interface);
  writer.list(
    'revisions',
    board.revisions.map((revision) => (inner: RecordWriter) => writeRevision(random, board, revision, inner)),
  );
  if (random.chance(0.4)) writeSources(random, writer);
  writeRemarks(random, writer, ['board', 'bench'], random.integer(42, 54));
  return writer;
}

function writeRevision(random: Random, board: Board, revision: Revision, writer: RecordWriter): void {
  writer.key('rev', revision.rev, remark(random));
  if (revision.isControllerRecorded) writer.key('controller', revision.controller);
  const [driver = ''] = revision.motorDrivers;
  writer.key('motor_driver', revision.motorDrivers.length > 1 ? revision.motorDrivers : driver);
  writer.key('ram_mb', revision.ramMb);
  if (revision.arePadsRecorded) writer.key('contact_pads', revision.pads);
  writer.list('roms', [
    (rom) => {
      rom.key('location', `U${random.integer(2, 14)}`);
      rom.key('package', board.romPackage);
      rom.key('bytes', board.romBytes);
      rom.key('volts', board.romVolts);
      rom.key('holds', board.family.storedIn === 'rom_chip' ? ['code', 'adaptives'] : ['code']);
    },
  ]);
  if (revision.dropInFor.length > 0) writer.key('drop_in_for', revision.dropInFor);
}

/** A drive as its label, board and examination show it. */
export function writeDrive(random: Random, drive: Drive): RecordWriter {
  const writer = new RecordWriter();
  writer.key('kind', 'drive');
  writer.key('id', drive.id);
  writer.key('family', drive.family.id);
  if (drive.isLooseBoard) writer.key('parts', 'board_only');
  else writeLabel(random, drive, writer);
  writeOwnBoard(random, drive, writer);
  if (!drive.isLooseBoard || random.chance(0.5))
    writer.map('rom_image', (inner) => inner.key('sha256', random.letters('0123456789abcdef', 64)));
  writeExamined(random, drive, writer);
  writer.map('condition', (inner) => {
    inner.key('board', drive.isBoardDead ? 'faulty' : 'good');
    if (!drive.isLooseBoard) inner.key('media', 'good');
    if (drive.isBoardDead) inner.text('fault', [writeSentence(random, 'fails')], random.pick(['plain', 'quoted']));
    inner.key('as_of', recentDay(random));
  });
  if (!drive.isLooseBoard) writer.key('data', drive.data, remark(random));
  writer.map('shelf', (inner) => {
    inner.key('place', `rack ${random.integer(1, 9)}, drawer ${random.integer(1, 30)}`);
    inner.key('spare', !drive.isBoardDead && drive.data === 'none');
  });
  writeRemarks(random, writer, ['drive', 'bench'], random.integer(42, 50));
  return writer;
}

function writeLabel(random: Random, drive: Drive, writer: RecordWriter): void {
  const { family } = drive;
  writer.key('model', drive.model);
  writer.key('part_number', drive.partNumber);
  writer.key('firmware', drive.firmware, remark(random));
  writer.key('serial', `****${drive.serialTail}`);
  writer.key('made', drive.made.made);
  if (random.chance(0.8)) writer.key('date_code', drive.made.code, remark(random));
  writer.key('site', drive.site);
  writer.key('country', family.country);
  writer.key('capacity_gb', drive.capacityGb);
  writer.key('lba_count', drive.lbaCount);
  if (family.interface === 'sata' || family.interface === 'sas') writer.key('wwn', drive.wwn);
  writer.key('heads', drive.heads);
  writer.key('head_map', Array.from({ length: drive.heads }, (_, head) => head).join(' '));
  if (random.chance(0.8)) writer.key('head_stack_code', drive.headStack);
  if (drive.isPreampRecorded) writer.key('preamp', drive.preamp);
  writer.key('power_on_hours', drive.powerOnHours);
  if (family.encryption !== 'none') writer.key('encrypted', family.encryption === 'always');
}

function writeOwnBoard(random: Random, drive: Drive, writer: RecordWriter): void {
  const { revision } = drive;
  writer.map('board', (inner) => {
    inner.key('id', drive.board.id);
    inner.key('rev', revision.rev);
    if (random.chance(0.6)) inner.key('sticker', `R-${random.integer(1000, 9999)}`);
    if (random.chance(0.5)) inner.key('controller', revision.controller);
    if (random.chance(0.7)) inner.key('motor_driver', drive.motorDriver);
  });
}

function writeExamined(random: Random, drive: Drive, writer: RecordWriter): void {
  writer.list('examined', [
    (inner) => {
      inner.key('on', recentDay(random));
      inner.key('supply_5v', 'ok');
      if (drive.family.formFactor === '3.5in') inner.key('supply_12v', 'ok', remark(random));
      if (!drive.isLooseBoard) {
        inner.key('motor_windings', 'ok');
        inner.key('head_lines', 'ok');
      }
      inner.key('contacts', random.pick(['clean', 'clean', 'oxidised']));
      inner.key('parts_burnt', false);
    },
  ]);
}

/** A rule with its reason. `excepted` names the outcome it does not count. */
export function writeRule(random: Random, rule: Rule, excepted: string | undefined): RecordWriter {
  const writer = new RecordWriter();
  writer.comment(writeSentence(random, 'rule'));
  writer.key('kind', 'rule');
  writer.key('id', rule.id);
  writer.key('applies_to', rule.appliesTo);
  writer.key('claim', rule.claim, remark(random));
  writer.map('when', (inner) => {
    for (const [key, value] of Object.entries(rule.when)) inner.key(key, value);
  });
  writer.key('stage', rule.stage);
  writer.key('at_least', rule.atLeast);
  writer.key('basis', rule.basis);
  writer.text(
    'because',
    [writeSentence(random, 'rule'), writeSentence(random, 'board')],
    random.pick(['plain', 'quoted', 'folded']),
  );
  if (excepted !== undefined) {
    writer.list('exceptions', [
      (inner) => {
        inner.key('outcome', excepted);
        inner.text('because', [writeSentence(random, 'bench')], 'plain');
      },
    ]);
  }
  if (random.chance(0.6)) writeSources(random, writer);
  writeRemarks(random, writer, ['rule', 'board', 'family', 'bench'], 44);
  return writer;
}

function remark(random: Random): string | undefined {
  return random.chance(0.07) ? writeRemark(random) : undefined;
}

/** Notes that bring a record to about so many lines; short ones where it has them already. */
function writeRemarks(random: Random, writer: RecordWriter, topics: readonly Topic[], lines: number): void {
  const room = Math.max(2, lines - writer.lines.length - 1);
  writer.text('notes', writeNotes(random, topics, room), pickNoteStyle(random));
}
