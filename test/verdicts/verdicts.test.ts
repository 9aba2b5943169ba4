import { expect, it } from 'vitest';
import { stages } from '../../server/src/core/terms/stages.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { followedIn } from '../../server/src/core/verdicts/identity-follows.ts';
import { identityTally } from '../../server/src/core/verdicts/identity-tally.ts';
import { highestObserved, inPercent, isRuledOut, limitsBelow } from '../../server/src/core/verdicts/observed-limits.ts';
import { doubtsAbout } from '../../server/src/core/verdicts/part-doubts.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { type SwapBase, swapBase } from '../harness/swap-base.ts';

/** At each stage, lowest first, w, f or i, a capital where the outcome is eligible; then what it lacks at `reads`. */
function verdictOf(base: SwapBase): string {
  const one = allEvidence(snapshotOf(swapBase(base))).find(({ outcome }) => outcome.id === 'one')!;
  const letters = stages.map(({ name }) => {
    const { result, isEligible } = one.verdicts[name];
    return isEligible ? result.charAt(0).toUpperCase() : result.charAt(0);
  });
  const missing = one.verdicts.reads.missing.map(({ what, path, says }) => `${what} ${path.join('.')}: ${says}`);
  return [letters.join(''), ...missing].join(' | ');
}

it('weighs controls, damage, ROM and host', () => {
  const ready = { reached: 'ready', result: 'fails' };
  const both = 'controls: {donor_on_own_board: works, patient_on_own_board: works}';
  const first = (lines: string) => ({
    'first.yaml': `kind: outcome\nid: first\ndate: 2026-03-01\npatient: d-0117\ndonor: d-0119\n${lines}\n---\nkind: drive\nid: d-0119\nfamily: tern-2\n`,
  });
  const cases: Readonly<Record<string, SwapBase>> = {
    nothing: { ...ready },
    left: { ...ready, outcome: 'rom: left' },
    controlled: { ...ready, outcome: `rom: left\n${both}` },
    verified: {
      ...ready,
      outcome: 'rom: left\ncontrols: {donor_on_own_board: verified, patient_on_own_board: verified}',
    },
    'verified, works': {
      outcome: 'rom: left\ncontrols: {donor_on_own_board: verified, patient_on_own_board: works}',
      reached: 'verified',
    },
    'swapped back': { ...ready, outcome: 'controls: {swapped_back: both_work}' },
    'swapped back with a chip': { ...ready, outcome: 'rom: chip_moved\ncontrols: {swapped_back: both_work}' },
    'chip not proved': { ...ready, outcome: `rom: chip_moved\n${both}` },
    'chip proved': { ...ready, outcome: `rom: chip_moved\nrom_proved: read_back\n${both}` },
    'image among others': { ...ready, outcome: `rom: [left, image_written]\n${both}` },
    'not fitted': { ...ready, outcome: `rom: not_fitted\n${both}` },
    'donor fails': {
      ...ready,
      outcome: 'rom: left\ncontrols: {donor_on_own_board: fails, patient_on_own_board: works}',
    },
    'patient fails': {
      ...ready,
      outcome: 'rom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: fails}',
    },
    'patient fails, proved': {
      ...ready,
      outcome: 'rom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: fails, hda_proved_by: first}',
      files: first('reached: reads\nresult: works'),
    },
    'patient fails, proved lower': {
      ...ready,
      outcome: 'rom: left\ncontrols: {donor_on_own_board: works, hda_proved_by: first}',
      files: first('reached: detected\nresult: inconclusive'),
    },
    'proof retracted': {
      ...ready,
      outcome: 'rom: left\ncontrols: {donor_on_own_board: works, hda_proved_by: first}',
      files: first('reached: reads\nresult: works\nretracted: {on: 2026-03-14, because: wrong}'),
    },
    'proved by itself': { ...ready, outcome: 'rom: left\ncontrols: {donor_on_own_board: works, hda_proved_by: one}' },
    'donor broke': { ...ready, outcome: `rom: left\n${both.replace('}', ', swapped_back: donor_fails}')}` },
    'both broke': { ...ready, outcome: `rom: left\n${both.replace('}', ', swapped_back: both_fail}')}` },
    'patient broke': { ...ready, outcome: `rom: left\n${both.replace('}', ', swapped_back: patient_fails}')}` },
    'patient was dead': {
      ...ready,
      outcome:
        'rom: left\ncontrols: {donor_on_own_board: works, patient_on_own_board: fails, swapped_back: patient_fails}',
    },
    'host unmet': { ...ready, family: 'host_needs: [onboard_port, jumper]', outcome: `rom: left\n${both}` },
    'host met': {
      ...ready,
      family: 'host_needs: [onboard_port, jumper]',
      outcome: `rom: left\n${both}\nhost: {port: onboard, meets: [jumper]}`,
    },
    'host half met': {
      ...ready,
      family: 'host_needs: [onboard_port, jumper]',
      outcome: `rom: left\n${both}\nhost: {meets: [onboard_port]}`,
    },
    'needs not readable': { ...ready, family: 'host_needs: jumper', outcome: `rom: left\n${both}` },
    'control not readable': {
      ...ready,
      outcome: 'rom: left\ncontrols: {donor_on_own_board: perhaps, swapped_back: both_work}',
    },
    'reached not readable': { reached: 'far', result: 'works', outcome: `rom: left\n${both}` },
    'no such donor': { ...ready, files: { 'drives/b.yaml': '' } },
    'works at detected': { ...ready, config: 'works_at: detected', outcome: `rom: left\n${both}` },
  };
  expect(Object.entries(cases).map(([name, base]) => `${name}: ${verdictOf(base)}`)).toMatchInlineSnapshot(`
    [
      "nothing: wwwiii | donor_proof controls.donor_on_own_board: nothing shows the donor's board good at \`reads\` on its own drive | patient_proof controls.patient_on_own_board: nothing shows the patient's head-disk assembly good at \`reads\` | rom_proof rom_proved: nothing shows that the ROM data really arrived",
      "left: wwwiii | donor_proof controls.donor_on_own_board: nothing shows the donor's board good at \`reads\` on its own drive | patient_proof controls.patient_on_own_board: nothing shows the patient's head-disk assembly good at \`reads\`",
      "controlled: WWWFFi",
      "verified: WWWFFF",
      "verified, works: WWWWWw",
      "swapped back: WWWFFi",
      "swapped back with a chip: WWWFFi",
      "chip not proved: wwwiii | rom_proof rom_proved: nothing shows that the ROM data really arrived",
      "chip proved: WWWFFi",
      "image among others: wwwiii | rom_proof rom_proved: nothing shows that the ROM data really arrived",
      "not fitted: WWWFFi",
      "donor fails: wwwiii | donor_proof controls.donor_on_own_board: the donor's board fails on its own drive too",
      "patient fails: wwwiii | patient_proof controls.patient_on_own_board: the patient fails on its own board, and no other outcome shows its head-disk assembly good at \`reads\`",
      "patient fails, proved: WWWFFi",
      "patient fails, proved lower: WWWFii | patient_proof controls.patient_on_own_board: nothing shows the patient's head-disk assembly good at \`reads\`",
      "proof retracted: wwwiii | patient_proof controls.patient_on_own_board: nothing shows the patient's head-disk assembly good at \`reads\`",
      "proved by itself: wwwiii | patient_proof controls.patient_on_own_board: nothing shows the patient's head-disk assembly good at \`reads\`",
      "donor broke: wwwiii | damage controls.swapped_back: the donor no longer worked when swapped back",
      "both broke: wwwiii | damage controls.swapped_back: neither drive worked when swapped back",
      "patient broke: wwwiii | damage controls.swapped_back: the patient had worked before and no longer did when swapped back",
      "patient was dead: wwwiii | patient_proof controls.patient_on_own_board: the patient fails on its own board, and no other outcome shows its head-disk assembly good at \`reads\`",
      "host unmet: wwwiii | host_need host.meets: the host is not said to meet \`onboard_port\`, which the donor's family needs | host_need host.meets: the host is not said to meet \`jumper\`, which the donor's family needs",
      "host met: WWWFFi",
      "host half met: wwwiii | host_need host.meets: the host is not said to meet \`jumper\`, which the donor's family needs",
      "needs not readable: wwwiii | record patient: the patient's family is not readable, so what it asks of the host is not known | record donor: the donor's family is not readable, so what it asks of the host is not known",
      "control not readable: wwwiii | record controls: a control cannot be read",
      "reached not readable: iiiiii | record reached: what was reached, the patient or the donor cannot be read",
      "no such donor: iiiiii | record donor: what was reached, the patient or the donor cannot be read",
      "works at detected: WWWFii | donor_proof controls.donor_on_own_board: nothing shows the donor's board good at \`reads\` on its own drive | patient_proof controls.patient_on_own_board: nothing shows the patient's head-disk assembly good at \`reads\`",
    ]
  `);
});

it('finds what observations allow', () => {
  const observed = [
    '{spins: false}',
    '{spins: true}',
    '{spins: true, stops_again: true}',
    '{sound: clicking, spins: true}',
    '{sound: normal, spins: true, host_state: ready}',
    '{detected: true, identity_right: false, host_state: ready}',
    '{detected: true, capacity_right: false}',
    '{detected: true, locked: true, reads: true}',
    '{detected: false, spins: true}',
    '{reads: partly, detected: true}',
    '{reads: true, content: noise}',
    '{reads: true}',
    '{}',
  ];
  const told = observed.map((text) => {
    const snapshot = snapshotOf(swapBase({ outcome: `observed: ${text}` }));
    const [{ outcome } = { outcome: undefined }] = allEvidence(snapshot);
    const limits = limitsBelow(outcome!, snapshot).map(
      ({ path, says, allows }) => `${path.join('.')} ${says} allows ${allows}`,
    );
    const ruledOut = stages.filter(({ name }) => isRuledOut(name, outcome!, snapshot)).map(({ name }) => name);
    return `${text}: ${highestObserved(outcome!.data.observed ?? {})}; ${limits.join(', ')}; out: ${ruledOut.join(' ')}`;
  });
  expect(told).toMatchInlineSnapshot(`
    [
      "{spins: false}: nothing; observed.spins \`spins: false\` allows nothing; out: spins ready detected reads verified",
      "{spins: true}: spins; ; out: ",
      "{spins: true, stops_again: true}: spins; observed.stops_again \`stops_again: true\` allows spins; out: ready detected reads verified",
      "{sound: clicking, spins: true}: spins; observed.sound \`sound: clicking\` allows spins; out: ready detected reads verified",
      "{sound: normal, spins: true, host_state: ready}: ready; ; out: ",
      "{detected: true, identity_right: false, host_state: ready}: ready; observed.identity_right \`identity_right: false\` allows ready; out: detected reads verified",
      "{detected: true, capacity_right: false}: undefined; observed.capacity_right \`capacity_right: false\` allows ready; out: detected reads verified",
      "{detected: true, locked: true, reads: true}: detected; observed.locked \`locked: true\` allows detected; out: reads verified",
      "{detected: false, spins: true}: spins; observed.detected \`detected: false\` allows ready; out: detected reads verified",
      "{reads: partly, detected: true}: detected; observed.reads \`reads: partly\` allows detected; out: reads verified",
      "{reads: true, content: noise}: undefined; observed.content \`content: noise\` allows detected; out: reads verified",
      "{reads: true}: reads; ; out: ",
      "{}: undefined; ; out: ",
    ]
  `);
});

it('finds what a verification allows', () => {
  const rows = [
    '',
    'verify: [{method: mount_only}]',
    'verify: [{method: hash_compare, bytes: 500000000000}]',
    'verify: [{method: hash_compare, bytes: 990000000000}]',
    'verify: [{method: hash_compare, bytes: 989999999999}]',
    'verify: [{method: hash_compare, bytes: 600000000000}, {method: byte_compare, bytes: 400000000000}]',
    'verify: [{method: hash_compare, bytes: 900000000000, passes: 2}]',
    'verify: [{method: hash_compare, bytes: 1000000000000, errors: 1}]',
    'verify: [{method: byte_compare}, {method: hash_compare, bytes: 1000000000000, errors: 3}]',
    'verify: [{method: hash_compare}]',
    'verify: nothing',
  ];
  const told = rows.map((text) => {
    const size = {
      patient: 'lba_count: 1953125000',
      family: 'sector_bytes: {logical: 512, physical: 4096}',
      config: 'verified_share: 0.99',
    };
    const snapshot = snapshotOf(swapBase({ ...size, reached: 'verified', outcome: text }));
    const limits = limitsBelow(allEvidence(snapshot)[0]!.outcome, snapshot);
    return `${text}: ${limits.map(({ path, says, missingBytes }) => `${path.join('.')} ${says} ${missingBytes}`).join()}`;
  });
  expect(told).toMatchInlineSnapshot(`
    [
      ": verify the absence of a comparing row under \`verify\` undefined",
      "verify: [{method: mount_only}]: verify the absence of a comparing row under \`verify\` undefined",
      "verify: [{method: hash_compare, bytes: 500000000000}]: verify content compared over 50 % of the capacity, less than the 99 % asked for by \`verified_share\`, 490000000000",
      "verify: [{method: hash_compare, bytes: 990000000000}]: ",
      "verify: [{method: hash_compare, bytes: 989999999999}]: verify content compared over 98.99 % of the capacity, less than the 99 % asked for by \`verified_share\`, 1",
      "verify: [{method: hash_compare, bytes: 600000000000}, {method: byte_compare, bytes: 400000000000}]: ",
      "verify: [{method: hash_compare, bytes: 900000000000, passes: 2}]: verify content compared over 45 % of the capacity, less than the 99 % asked for by \`verified_share\`, 540000000000",
      "verify: [{method: hash_compare, bytes: 1000000000000, errors: 1}]: verify.0.errors \`hash_compare\` with 1 error undefined",
      "verify: [{method: byte_compare}, {method: hash_compare, bytes: 1000000000000, errors: 3}]: verify.1.errors \`hash_compare\` with 3 errors undefined",
      "verify: [{method: hash_compare}]: ",
      "verify: nothing: ",
    ]
  `);
});

it.each([
  [1, '100 %'],
  [0.99, '99 %'],
  [0.9899999, '98.99 %'],
  [0.123456, '12.34 %'],
  [0.0123456, '1.234 %'],
  [0.000123456, '0.01234 %'],
  [0, '0 %'],
])('%d is %s', (share, words) => expect(inPercent(share)).toBe(words));

it('tells what followed what, assembly by assembly', () => {
  const cases: Readonly<Record<string, SwapBase>> = {
    'serial of the platters': {
      outcome:
        'rom: left\nidentity: [{value: serial, patient_before: P1, donor_before: D1, after: P1, other_after: D1}]',
    },
    'model of the board': {
      outcome: 'rom: left\nidentity: [{value: model, patient_before: M1, donor_before: M2, after: M2}]',
    },
    'same on both': {
      outcome: 'rom: left\nidentity: [{value: firmware, patient_before: F1, donor_before: F1, after: F1}]',
    },
    neither: { outcome: 'rom: left\nidentity: [{value: firmware, patient_before: F1, donor_before: F2, after: F3}]' },
    'one side unknown': {
      outcome:
        'rom: left\nidentity: [{value: firmware, patient_before: F1, after: F1}, {value: model, donor_before: M1, after: M1}]',
    },
    'nothing after': { outcome: 'rom: left\nidentity: [{value: firmware, patient_before: F1, donor_before: F2}]' },
    'chip went along': {
      outcome: 'rom: chip_moved\nidentity: [{value: serial, patient_before: P1, donor_before: D1, after: P1}]',
    },
    'ROM from elsewhere': {
      outcome:
        'rom: left\nrom_from: d-0117\nidentity: [{value: serial, patient_before: P1, donor_before: D1, after: P1}]',
    },
    'ROM of the donor': {
      outcome:
        'rom: [left, not_fitted]\nrom_from: d-0118\nidentity: [{value: serial, patient_before: P1, donor_before: D1, after: P1}]',
    },
    'through a bridge': {
      outcome:
        'rom: left\nhost: {port: usb_bridge}\nidentity: [{value: model, patient_before: M1, donor_before: M2, after: M2}]',
    },
    'bridge of its own': {
      family: 'interface: usb',
      outcome:
        'rom: left\nhost: {port: usb_bridge}\nidentity: [{value: model, patient_before: M1, donor_before: M2, after: M2}]',
    },
    'contradicted by the drive': {
      patient: 'model: M9',
      outcome: 'rom: left\nidentity: [{value: model, patient_before: M1, donor_before: M2, after: M2}]',
    },
    hours: {
      outcome:
        'rom: left\nidentity: [{value: power_on_hours, patient_before: 100, donor_before: 9000, after: 101, other_after: 9001}]',
    },
  };
  const told = Object.entries(cases).map(([name, base]) => {
    const snapshot = snapshotOf(swapBase(base));
    const followed = followedIn(allEvidence(snapshot)[0]!.outcome, snapshot).map(
      ({ value, column, follows, platters, board, report }) =>
        `${value} ${column} ${follows} (${platters.side} on ${board.side}'s board, ${report.path.join('.')})`,
    );
    const tally = identityTally('tern-2', snapshot).map((row) => JSON.stringify(row));
    return `${name}: ${[...followed, ...tally].join('; ')}`;
  });
  expect(told).toMatchInlineSnapshot(`
    [
      "serial of the platters: serial after platters (patient on donor's board, identity.0.after); serial other_after platters (donor on patient's board, identity.0.other_after); {"value":"serial","platters":2,"plattersOrRom":0,"board":0,"sameOnBoth":0,"neither":0}",
      "model of the board: model after board (patient on donor's board, identity.0.after); {"value":"model","platters":0,"plattersOrRom":0,"board":1,"sameOnBoth":0,"neither":0}",
      "same on both: firmware after same_on_both (patient on donor's board, identity.0.after); {"value":"firmware","platters":0,"plattersOrRom":0,"board":0,"sameOnBoth":1,"neither":0}",
      "neither: firmware after neither (patient on donor's board, identity.0.after); {"value":"firmware","platters":0,"plattersOrRom":0,"board":0,"sameOnBoth":0,"neither":1}",
      "one side unknown: firmware after not_known (patient on donor's board, identity.0.after); model after not_known (patient on donor's board, identity.1.after)",
      "nothing after: ",
      "chip went along: serial after platters (patient on donor's board, identity.0.after); {"value":"serial","platters":0,"plattersOrRom":1,"board":0,"sameOnBoth":0,"neither":0}",
      "ROM from elsewhere: serial after platters (patient on donor's board, identity.0.after); {"value":"serial","platters":0,"plattersOrRom":1,"board":0,"sameOnBoth":0,"neither":0}",
      "ROM of the donor: serial after platters (patient on donor's board, identity.0.after); {"value":"serial","platters":1,"plattersOrRom":0,"board":0,"sameOnBoth":0,"neither":0}",
      "through a bridge: ",
      "bridge of its own: model after board (patient on donor's board, identity.0.after); {"value":"model","platters":0,"plattersOrRom":0,"board":1,"sameOnBoth":0,"neither":0}",
      "contradicted by the drive: ",
      "hours: power_on_hours after platters (patient on donor's board, identity.0.after); power_on_hours other_after platters (donor on patient's board, identity.0.other_after); {"value":"power_on_hours","platters":2,"plattersOrRom":0,"board":0,"sameOnBoth":0,"neither":0}",
    ]
  `);
});

it('says what speaks against a drive, and where', () => {
  const cases: Readonly<Record<string, SwapBase>> = {
    'donor broke': {
      outcome: 'controls: {donor_on_own_board: works, patient_on_own_board: works, swapped_back: donor_fails}',
      reached: 'spins',
    },
    'both broke': {
      outcome: 'controls: {donor_on_own_board: verified, patient_on_own_board: verified, swapped_back: both_fail}',
      reached: 'spins',
    },
    'patient broke': {
      outcome: 'controls: {donor_on_own_board: works, patient_on_own_board: works, swapped_back: patient_fails}',
      reached: 'spins',
    },
    'patient dead, works now': { outcome: 'rom: left\ncontrols: {patient_on_own_board: fails}', reached: 'reads' },
    'patient dead': { outcome: 'rom: left\ncontrols: {patient_on_own_board: fails}', reached: 'spins' },
    'donor dead, its board works': { outcome: 'rom: left\ncontrols: {donor_on_own_board: fails}', reached: 'reads' },
    'donor dead': { outcome: 'rom: left\ncontrols: {donor_on_own_board: fails}', reached: 'spins' },
    'not swapped back': { outcome: 'rom: chip_moved\ncontrols: {swapped_back: not_done}', reached: 'reads' },
    'controller away': {
      outcome: 'rom: [controller_moved, chip_moved]\ncontrols: {swapped_back: not_done}',
      reached: 'reads',
    },
    grinding: { outcome: 'observed: {sound: grinding}', reached: 'spins' },
    'grinding, works back': {
      outcome: 'observed: {sound: grinding}\ncontrols: {swapped_back: both_work}',
      reached: 'spins',
    },
    'host to blame': {
      family: 'host_needs: [jumper]',
      outcome: 'rom: left\ncontrols: {patient_on_own_board: fails}',
      reached: 'spins',
    },
    'turned whatever the host': {
      family: 'host_needs: [jumper]',
      outcome: 'rom: left\ncontrols: {patient_on_own_board: works, donor_on_own_board: works, swapped_back: both_fail}',
      reached: 'spins',
    },
    retracted: {
      outcome: 'rom: left\ncontrols: {donor_on_own_board: fails}\nretracted: {on: 2026-03-15, because: wrong}',
      reached: 'spins',
    },
  };
  const told = Object.entries(cases).map(([name, base]) => {
    const snapshot = snapshotOf(swapBase(base));
    const doubts = ['d-0117', 'd-0118'].map((id) =>
      doubtsAbout(snapshot.find('drive', id)!, undefined, snapshot).map(
        ({ about, path, says }) => `${id} ${about} ${path.join('.')}: ${says}`,
      ),
    );
    return `${name}: ${doubts.flat().join('; ')}`;
  });
  expect(told).toMatchInlineSnapshot(`
    [
      "donor broke: d-0118 board controls.swapped_back: the drive no longer worked on its own board when swapped back",
      "both broke: d-0117 drive controls.swapped_back: the drive no longer worked when swapped back; d-0118 board controls.swapped_back: the drive no longer worked on its own board when swapped back",
      "patient broke: d-0117 drive controls.swapped_back: the drive no longer worked when swapped back",
      "patient dead, works now: d-0117 board controls.patient_on_own_board: the drive failed on its own board and worked with the donor's",
      "patient dead: d-0117 drive controls.patient_on_own_board: the drive failed on its own board",
      "donor dead, its board works: d-0118 media controls.donor_on_own_board: the drive failed on its own board, though that board worked on the patient",
      "donor dead: d-0118 drive controls.donor_on_own_board: the drive failed on its own board",
      "not swapped back: d-0117 place controls.swapped_back: its ROM chip was moved to the donor's board and not swapped back; d-0118 place controls.swapped_back: its board was put on patient \`d-0117\` and not swapped back",
      "controller away: d-0117 place controls.swapped_back: its controller was moved to the donor's board and not swapped back; d-0118 place controls.swapped_back: its board was put on patient \`d-0117\` and not swapped back",
      "grinding: d-0117 media observed.sound: the drive was grinding",
      "grinding, works back: ",
      "host to blame: ",
      "turned whatever the host: d-0117 drive controls.swapped_back: the drive no longer worked when swapped back; d-0118 board controls.swapped_back: the drive no longer worked on its own board when swapped back",
      "retracted: ",
    ]
  `);
});
