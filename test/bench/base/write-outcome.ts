import { pickNoteStyle, writeNotes, writeRemark } from './prose.ts';
import type { Random } from './random.ts';
import { RecordWriter, type Value } from './record-writer.ts';
import { isWorking, type Swap } from './swaps.ts';
import { writeSources } from './write-sources.ts';

/** An outcome as the bench wrote it down. */
export function writeOutcome(random: Random, swap: Swap): RecordWriter {
  const { patient, donor } = swap;
  const isTrial = patient.data !== 'wanted' || random.chance(0.3);
  const checks = isWorking(swap.reached) ? verifyRows(random, swap, isTrial) : [];
  const writer = new RecordWriter();
  if (random.chance(0.15)) writer.comment(`${writeRemark(random)}, ${writeRemark(random)}`);
  writer.key('kind', 'outcome');
  writer.key('id', swap.id);
  writer.key('date', { moment: swap.date }, remark(random, 0.1));
  writer.key('by', `bench-${random.integer(1, 4)}`);
  writer.key('purpose', isTrial ? 'trial' : 'recovery');
  writer.key('patient', patient.id, remark(random, 0.1));
  writer.key('donor', donor.id);
  if (swap.rom !== undefined) {
    writer.key('rom', swap.rom, remark(random, 0.1));
    const tellsFrom = patient.family.storedIn !== 'platters' && random.chance(0.04);
    if (tellsFrom) writer.key('rom_from', swap.romTravels ? patient.id : donor.id);
    if (swap.isRomMoved && !swap.gaps.has('rom_unproved'))
      writer.key('rom_proved', isWorking(swap.reached) ? random.pick(['read_back', 'worked_after']) : 'read_back');
  }
  writeHost(random, swap, writer);
  writeControls(random, swap, writer);
  writeObserved(random, swap, writer, checks);
  writer.rows('identity', identityRows(random, swap));
  writer.list(
    'verify',
    checks.map((check) => (inner: RecordWriter) => {
      for (const [key, value] of Object.entries(check)) inner.key(key, value);
    }),
  );
  if (random.chance(0.1)) writer.comment(writeRemark(random));
  writer.key('reached', swap.reached, remark(random, 0.08));
  writer.key('result', swap.result);
  if (random.chance(0.3)) writer.key('x-job', `B-${random.integer(1000, 9999)}`);
  if (random.chance(0.15)) writeSources(random, writer);
  const room = random.integer(44, 62) - writer.lines.length - 1;
  const topics = [isWorking(swap.reached) ? 'works' : 'fails', 'bench'] as const;
  writer.text('notes', writeNotes(random, topics, Math.max(3, Math.min(room, 14))), pickNoteStyle(random));
  return writer;
}

function remark(random: Random, probability: number): string | undefined {
  return random.chance(probability) ? writeRemark(random) : undefined;
}

function writeHost(random: Random, { patient, gaps }: Swap, writer: RecordWriter): void {
  const { hostNeeds } = patient.family;
  const isFit = !gaps.has('host_unfit');
  const needsPort = hostNeeds.includes('onboard_port');
  const isOnboard = needsPort ? isFit : random.chance(0.6);
  const met = isFit ? hostNeeds.filter((need) => need !== 'onboard_port') : [];
  writer.map('host', (inner) => {
    inner.key('name', `bench-${random.integer(1, 4)}`);
    inner.key('port', isOnboard ? 'onboard' : 'hba');
    if (met.length > 0) inner.key('meets', met);
  });
}

function writeControls(random: Random, swap: Swap, writer: RecordWriter): void {
  const proved = (): string => random.pick(['works', 'works', 'verified']);
  writer.map('controls', (inner) => {
    inner.key('donor_on_own_board', swap.gaps.has('donor_untested') ? 'not_tested' : proved(), remark(random, 0.1));
    const isPatientOpen = swap.gaps.has('patient_untested');
    inner.key('patient_on_own_board', swap.patient.isBoardDead ? 'fails' : isPatientOpen ? 'not_tested' : proved());
    inner.key('swapped_back', swap.isSwappedBack ? 'both_work' : 'not_done', remark(random, 0.1));
    inner.key('hda_proved_by', swap.provedBy);
  });
}

type CheckRow = { readonly [key: string]: Value | undefined };

/** The stretch of observations that each stage shows. */
function writeObserved(random: Random, swap: Swap, writer: RecordWriter, checks: readonly CheckRow[]): void {
  const { reached } = swap;
  const minutes = checks.reduce((sum, check) => sum + Number(check['minutes'] ?? 0), 0);
  const clicks = reached === 'spins' && random.chance(0.4);
  const hasSpun = reached !== 'nothing';
  const isReady = hasSpun && reached !== 'spins';
  const isListed = isReady && reached !== 'ready';
  writer.map('observed', (inner) => {
    inner.key('spins', hasSpun);
    if (hasSpun) inner.key('stops_again', reached === 'spins' && !clicks);
    inner.key('sound', clicks ? 'clicking' : hasSpun ? 'normal' : 'silent', remark(random, 0.1));
    inner.key('powered_minutes', clicks ? 0.4 : Math.ceil(minutes) + random.integer(3, 40));
    if (isReady) inner.key('ready_seconds', random.integer(6, 25));
    inner.key('host_state', isListed ? 'ready' : isReady ? 'error' : hasSpun ? 'busy' : 'no_answer');
    inner.key('detected', isListed);
    if (!isListed) return;
    inner.key('identity_right', true);
    inner.key('capacity_right', true);
    inner.key('locked', false);
    inner.key('reads', isWorking(reached) ? true : random.pick([false, 'partly']));
    if (isWorking(reached)) inner.key('content', 'sensible');
  });
}

function identityRows(random: Random, swap: Swap): readonly Value[] {
  const { patient, donor, hours } = swap;
  const isListed = swap.reached === 'detected' || isWorking(swap.reached);
  const row = (value: string, ofPatient: Value, ofDonor: Value, after: Value): Value => ({
    value,
    patient_before: patient.isBoardDead ? undefined : ofPatient,
    donor_before: donor.isLooseBoard ? undefined : ofDonor,
    after: isListed ? after : undefined,
  });
  const firmware = patient.family.firmwareFollows === 'board' ? donor.firmware : patient.firmware;
  const serial = `****${patient.serialTail}`;
  const rows = [
    row('serial', serial, `****${donor.serialTail}`, serial),
    row('model', patient.model, donor.model, patient.model),
    row('capacity', patient.lbaCount, donor.lbaCount, patient.lbaCount),
    row('power_on_hours', hours.patient, hours.donor, hours.patient + random.integer(0, 6)),
    ...(donor.isLooseBoard ? [] : [row('firmware', patient.firmware, donor.firmware, firmware)]),
    row('defect_counts', 0, 0, 0),
  ];
  const isTold = (row: Value): boolean => Object.values(row).filter((value) => value !== undefined).length > 1;
  return rows.filter((row) => isTold(row) && random.chance(0.7));
}

/** What was compared or read: enough of it for `verified`, nothing compared for `reads`. */
function verifyRows(random: Random, swap: Swap, isTrial: boolean): readonly CheckRow[] {
  const { patient, reached } = swap;
  const whole = patient.lbaCount * 512;
  const row = (method: string, bytes: number, where: string): CheckRow => ({
    method,
    bytes,
    errors: 0,
    minutes: minutesFor(random, patient.family.interface, bytes),
    passes: random.chance(0.3) ? 1 : undefined,
    where,
    read_only: method === 'write_pass' ? undefined : true,
  });
  if (reached === 'reads') {
    if (random.chance(0.2)) return [{ method: 'mount_only', read_only: true }];
    return [row('read_pass', Math.round((whole * random.integer(1, 40)) / 100), random.pick(['start', 'spread']))];
  }
  const share = random.integer(3, 60) / 100;
  const mayWrite = isTrial && patient.data !== 'wanted';
  const compared =
    mayWrite && random.chance(0.2)
      ? row('write_pass', whole, 'whole')
      : row(
          random.pick(['checksum_scrub', 'hash_compare']),
          Math.round(whole * share),
          random.pick(['files', 'spread']),
        );
  return random.chance(0.25) ? [row('read_pass', whole, 'whole'), compared] : [compared];
}

/** Minutes, to a tenth, at a speed that the interface allows. */
function minutesFor(random: Random, interfaceName: string, bytes: number): number {
  const [slowest, fastest] = { pata: [28, 60], usb: [24, 36] }[interfaceName] ?? [60, 170];
  const megabytesPerSecond = random.integer(slowest ?? 60, fastest ?? 170);
  return Math.ceil(bytes / megabytesPerSecond / 6_000_000) / 10 + 0.1;
}
