import { existsSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Program } from '../../server/src/cli/command.ts';
import { readCapture } from '../../server/src/core/captures/read-capture.ts';
import { sha256 } from '../../server/src/core/text/sha256.ts';
import type { DriveSystem } from '../../server/src/host/disk/drive-system.ts';
import { serialDigest } from '../../server/src/host/serial-digest.ts';
import { encodeIdentify, toWordsText } from '../harness/encode-identify.ts';
import { asciiBytes, encodeVpd, encodeVpd83, encodeVpd89, hexBytes } from '../harness/encode-vpd.ts';
import { type FakeDrive, type FakeSurroundings, fakeSystem } from '../harness/fake-drives.ts';
import { folderOf, type Run, runInside, transcript } from '../harness/run-cli.ts';

const identify = encodeIdentify({
  serial: 'WQ904F2K',
  model: 'NT10-21 TERN 1000',
  firmware: '2.14-K',
  lbaCount: 1_953_525_168,
  logicalSectorBytes: 512,
  physicalSectorBytes: 4096,
  rpm: 7200,
  transport: 'sata',
  wwn: '500005e012345678',
});

function nameOf(wwn: string): Uint8Array {
  return encodeVpd83([{ type: 3, codeSet: 1, content: hexBytes(wwn) }]);
}

const sata: FakeDrive = {
  name: 'sda',
  way: 'pci0000:00/0000:00:1f.2/ata1/host0/target0:0:0/0:0:0:0',
  files: {
    dev: '8:0\n',
    size: '1953525168\n',
    removable: '0\n',
    'queue/logical_block_size': '512\n',
    'queue/physical_block_size': '4096\n',
    'queue/rotational': '1\n',
    'device/type': '0\n',
    'device/vendor': 'ATA     \n',
    'device/model': 'NT10-21 TERN 100\n',
    'device/rev': '14-K\n',
    'device/wwid': 'naa.500005e012345678\n',
    'device/inquiry': Uint8Array.from({ length: 96 }, (_, at) => (at === 4 ? 91 : 0)),
    'device/vpd_pg80': encodeVpd(0x80, asciiBytes('            WQ904F2K')),
    'device/vpd_pg83': nameOf('500005e012345678'),
    'device/vpd_pg89': encodeVpd89(identify),
  },
  partitions: ['sda1', 'sda2'],
};

const sas: FakeDrive = {
  name: 'sdb',
  way: 'pci0000:00/0000:03:00.0/host6/port-6:0/end_device-6:0/target6:0:0/6:0:0:0',
  files: {
    dev: '8:16\n',
    size: '1172123568\n',
    'queue/logical_block_size': '512\n',
    'device/type': '0\n',
    'device/vendor': 'WREN    \n',
    'device/model': 'KT600-S\n',
    'device/rev': '0A17\n',
    'device/vpd_pg80': encodeVpd(0x80, asciiBytes('KS771X0032')),
    'device/vpd_pg83': nameOf('500005e0aabbccdd'),
  },
};

const usb: FakeDrive = {
  name: 'sdc',
  way: 'pci0000:00/0000:00:14.0/usb2/2-1/2-1:1.0/host7/target7:0:0/7:0:0:0',
  files: {
    dev: '8:32\n',
    size: '1953525167\n',
    'queue/logical_block_size': '512\n',
    'device/type': '0\n',
    'device/vendor': 'Dock\n',
    'device/model': 'Bridge 3.0\n',
    'device/rev': '0106\n',
    'device/vpd_pg80': encodeVpd(0x80, asciiBytes('000000123456')),
  },
};

const cd: FakeDrive = {
  name: 'sr0',
  way: 'pci0000:00/0000:00:1f.2/ata4/host3/target3:0:0/3:0:0:0',
  files: { 'device/type': '5\n' },
};
/** What is no SCSI device has no type. */
const nvme: FakeDrive = {
  name: 'nvme0n1',
  way: 'pci0000:00/0000:01:00.0/nvme/nvme0',
  files: { size: '1953525168\n', 'queue/logical_block_size': '512\n', 'device/model': 'KT-N 1000\n' },
};
const loop: FakeDrive = { name: 'loop0', files: { size: '0\n', 'loop/backing_file': '/disk.img\n' } };
const mapped: FakeDrive = { name: 'dm-0', files: { dev: '253:0\n', 'dm/name': 'vault\n' } };

/** `hdparm --Istdout`, as its version 9.65 prints it: a heading, then words. */
const hdparm = `echo; echo /dev/sdc:; echo '${toWordsText(identify)}'`;

const key = new TextEncoder().encode('0123456789abcdef0123456789abcdef');

function programOf(drives: DriveSystem | undefined): Program {
  return { version: '0.0.0', drives, findSerialKey: () => ({ key }) };
}

/** Runs the command in a folder with these files, on a system with these drives. */
async function captured(
  args: readonly string[],
  {
    drives = [sata],
    files = {},
    ...surroundings
  }: FakeSurroundings & { drives?: FakeDrive[]; files?: Record<string, string> } = {},
): Promise<Run & { readonly folder: string; readonly system: DriveSystem }> {
  const system = fakeSystem(drives, surroundings);
  const folder = folderOf(files);
  const run = await runInside(folder, ['capture', ...args, '--today', '2026-03-14'], {}, programOf(system));
  return { ...run, folder, system };
}

function written(folder: string, path = 'one.json'): string {
  return readFileSync(join(folder, path), 'utf8');
}

/** For scripts: the folder they lie in. */
const besideIt = '"$(dirname "$0")"';

const base = { 'swaplore.yaml': 'swaplore: 1\n' };

describe('a capture', () => {
  it('of a SATA drive asks it nothing, and says so first', async () => {
    const run = await captured(['/dev/sda', '--out', 'captures/117 a.json'], { files: base });
    expect(transcript(run).replace(/sha256: .{64}/, 'sha256: …')).toMatchSnapshot();
    expect(run.stdout).toContain(sha256(readFileSync(join(run.folder, 'captures/117 a.json'))));
    const facts = readCapture(readFileSync(join(run.folder, 'captures/117 a.json')));
    expect(facts).toMatchObject({ taken: '2026-03-14', problems: [], faults: [], serials: [] });
    expect(facts.values).toMatchObject({
      serial: '****4F2K',
      model: 'NT10-21 TERN 1000',
      firmware: '2.14-K',
      wwn: '500005e012345678',
      lbaCount: 1_953_525_168,
      logicalSectorBytes: 512,
      physicalSectorBytes: 4096,
      rpm: 7200,
    });
  });

  it('names every file that was read, in full with the digest of its bytes', async () => {
    const { folder } = await captured(['sda', '--out', 'one.json', '--serials', 'full']);
    const sources: { name: string; sha256: string }[] = JSON.parse(written(folder)).sources;
    const sums = Object.fromEntries(sources.map((source) => [source.name, source.sha256]));
    expect(Object.keys(sums)).toEqual([
      ...['vpd_pg89', 'vpd_pg80', 'vpd_pg83', 'vendor', 'model', 'rev', 'wwid', 'inquiry', 'size'],
      ...['logical_block_size', 'physical_block_size', 'rotational', 'removable', 'path'],
    ]);
    expect(sums['vpd_pg80']).toBe(sha256(encodeVpd(0x80, asciiBytes('            WQ904F2K'))));
    expect(sums['path']).toBe(sha256(new TextEncoder().encode(`/devices/${sata.way}/block/sda`)));
  });

  it('of a SAS drive takes what its own pages say', async () => {
    const { folder, code } = await captured(['sdb', '--out', 'one.json'], { drives: [sas] });
    expect(code).toBe(0);
    expect(readCapture(readFileSync(join(folder, 'one.json'))).values).toMatchObject({
      serial: '****0032',
      model: 'KT600-S',
      firmware: '0A17',
      wwn: '500005e0aabbccdd',
      lbaCount: 1_172_123_568,
      transport: 'sas',
    });
  });

  it('of a drive behind a bridge says where the bridge and the drive contradict one another', async () => {
    const run = await captured(['sdc', '--out', 'one.json', '--ask-drive'], { drives: [usb], programs: { hdparm } });
    const { values, problems } = readCapture(readFileSync(join(run.folder, 'one.json')));
    expect(values).toMatchObject({ serial: '****4F2K', model: 'NT10-21 TERN 1000', firmware: '2.14-K' });
    const messages = problems.map(({ message }) => message).join('\n');
    expect(messages).toContain('Serial number `****3456` of `vpd_pg80` is not the `****4F2K` of `hdparm --Istdout`');
    expect(messages).toContain('Model `Bridge 3.0` of `model` is not');
    expect(messages).toContain('Capacity');
    expect(run.stdout).toContain('warning: Serial number `****3456`');
  });

  it('goes without what the kernel does not show, and says when nothing names the drive', async () => {
    const bare: FakeDrive = {
      ...sata,
      files: { dev: '8:0\n', size: '0\n', 'device/type': '0\n', 'queue/logical_block_size': '512\n' },
    };
    const run = await captured(['sda', '--out', 'one.json'], { drives: [bare] });
    expect(run).toMatchObject({ code: 0, stderr: '' });
    expect(run.stdout).toContain('  lbaCount: 0\n');
    expect(run.stdout).toContain('warning: Nothing that was read says which drive this is.\n');
  });

  it('keeps why a file cannot be read', async () => {
    const { 'device/vpd_pg89': _, ...files } = sata.files;
    const drives = [{ ...sata, files: { ...files, 'device/vpd_pg89/in/the/way': '' } }];
    const { folder, stdout, code } = await captured(['sda', '--out', 'one.json'], { drives });
    const message = 'The kernel does not let it be read: it is a folder.';
    expect(stdout).toContain(`warning: vpd_pg89: ${message}\n`);
    expect(code).toBe(0);
    expect(readCapture(readFileSync(join(folder, 'one.json'))).problems).toEqual([
      { severity: 'warning', message, source: 'vpd_pg89' },
    ]);
  });

  it('changes nothing in the system', async () => {
    const system = fakeSystem([sata, usb], { udev: ['8:0'] });
    const before = treeOf(system.root);
    await runInside(folderOf({}), ['capture', 'sda', '--out', 'one.json', '--ask-drive'], {}, programOf(system));
    expect(treeOf(system.root)).toEqual(before);
  });
});

/** Every file below a folder with what it holds. */
function treeOf(root: string): Record<string, string> {
  const entries = readdirSync(root, { withFileTypes: true, recursive: true }).filter((entry) => entry.isFile());
  return Object.fromEntries(
    entries.map(({ parentPath, name }) => [join(parentPath, name), sha256(readFileSync(join(parentPath, name)))]),
  );
}

describe('programs', () => {
  /** Programs that note how they were called, in the folder they run in. */
  const noting = Object.fromEntries(
    ['lsblk', 'hdparm', 'smartctl', 'sg_vpd'].map((name) => [
      name,
      `cd ${besideIt} && echo "${name} $*" >> calls; echo '{}'`,
    ]),
  );

  function calls({ root }: DriveSystem): string[] {
    const path = join(root, 'usr/bin/calls');
    return existsSync(path) ? readFileSync(path, 'utf8').trim().split('\n') : [];
  }

  it('that would ask the drive are not run without being told to', async () => {
    expect(calls((await captured(['sda', '--out', 'one.json'], { programs: noting })).system)).toEqual([]);
  });

  it('that go by what udev kept are run where it kept something', async () => {
    const { system, stdout } = await captured(['sda', '--out', 'one.json'], { programs: noting, udev: ['8:0'] });
    expect(calls(system).map((call) => call.split(' ')[0])).toEqual(['lsblk']);
    expect(stdout).toContain('hdparm: not run, since it may ask the drive, which only --ask-drive');
  });

  it('are run with the options of the table and no others, one after the other', async () => {
    const { system } = await captured(['sda', '--out', 'one.json', '--ask-drive'], { programs: noting });
    expect(calls(system)).toEqual([
      'lsblk --json --bytes --nodeps --output NAME,TYPE,SIZE,VENDOR,MODEL,REV,SERIAL,WWN,TRAN,ROTA,LOG-SEC,PHY-SEC /dev/sda',
      'hdparm --Istdout /dev/sda',
      'smartctl --json --info --attributes --nocheck=standby /dev/sda',
    ]);
  });

  it('that only root can run are left out for others', async () => {
    const system = { ...fakeSystem([sata], { programs: noting }), isRoot: false };
    await runInside(folderOf({}), ['capture', 'sda', '--out', 'one.json', '--ask-drive'], {}, programOf(system));
    expect(calls(system).map((call) => call.split(' ')[0])).toEqual(['lsblk', 'smartctl']);
  });

  it('that get no answer are stopped, and nothing is asked after them', async () => {
    const programs = { ...noting, hdparm: `cd ${besideIt} && echo $$ > pid; exec sleep 100` };
    const system = { ...fakeSystem([sata], { programs }), patienceMs: 500 };
    const folder = folderOf({});
    const run = await runInside(folder, ['capture', 'sda', '--out', 'one.json', '--ask-drive'], {}, programOf(system));
    expect(run.stdout).toContain(
      'warning: hdparm: It did not end within 0.5 s, and no other program was run after it.\n',
    );
    expect(calls(system)).toHaveLength(1);
    expect(run.code).toBe(1);
    expect(readCapture(readFileSync(join(folder, 'one.json'))).values.serial).toBe('****4F2K');
    await expect.poll(() => isRunning(Number(readFileSync(join(system.root, 'usr/bin/pid'), 'utf8')))).toBe(false);
  });

  it.each([
    ['garbage', 'printf "\\200\\377 no answer \\001"', 'error: smartctl: It is nothing that can be read'],
    ['nothing', 'exit 0', 'warning: smartctl: It printed nothing.'],
    [
      'a complaint',
      'echo "Smartctl open device: WQ904F2K failed" >&2; exit 2',
      'warning: smartctl: It says: Smartctl open device: ****4F2K failed',
    ],
    ['a status', 'exit 64', 'warning: smartctl: It ended with status 64.'],
    [
      'without end',
      'while :; do echo xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx; done',
      'printed more than 4 MB',
    ],
  ])('that print %s are a problem of the capture, and no more', async (_, smartctl, says) => {
    const run = await captured(['sda', '--out', 'one.json', '--ask-drive'], { programs: { smartctl } });
    expect(run.stdout).toContain(says);
    expect(readCapture(readFileSync(join(run.folder, 'one.json'))).values.serial).toBe('****4F2K');
    expect(written(run.folder)).not.toContain('WQ904F2K');
  });

  it('that cannot be run are a problem of the capture', async () => {
    const system = fakeSystem([sata], { programs: { smartctl: '' } });
    writeFileSync(join(system.path, 'smartctl'), '#!/no/such/interpreter\n');
    const run = await runInside(
      folderOf({}),
      ['capture', 'sda', '--out', 'one.json', '--ask-drive'],
      {},
      programOf(system),
    );
    expect(run.stdout).toContain(
      'warning: smartctl: It cannot be run: nothing is there, and no other program was run after it.',
    );
  });
});

function isRunning(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch {
    return false;
  }
}

describe('a device', () => {
  const drives = [sata, sas, nvme, cd, loop, mapped];

  it('is refused where it is no whole drive', async () => {
    const links = { 'mapper/vault': '../dm-0', outside: '/etc/passwd', circle: 'circle' };
    const system = fakeSystem(drives, { links });
    writeFileSync(join(system.root, 'dev/file'), '');
    const folder = folderOf({});
    const made = 'is no drive: the kernel makes it out of files or of other devices.';
    const expected = {
      '/dev/sda1': '/dev/sda1 (sda1) is a partition of sda.',
      sda2: 'sda2 is a partition of sda.',
      '/dev/loop0': `/dev/loop0 (loop0) ${made}`,
      'dm-0': `dm-0 ${made}`,
      '/dev/mapper/vault': `/dev/mapper/vault (dm-0) ${made}`,
      sr0: 'sr0 is no hard drive, but a SCSI device of type 5.',
      sdz: 'sdz is no block device that the kernel knows.',
      'disk.img': 'disk.img is no device below /dev.',
      '/dev/file': '/dev/file is no block device.',
      '/dev/file/sda': '/dev/file/sda is no device below /dev.',
      '/etc/passwd': '/etc/passwd is no device below /dev.',
      '/dev/outside': '/dev/outside is no device below /dev.',
      '/dev/circle': '/dev/circle is no block device.',
      '/dev/../dev/sda': '/dev/../dev/sda leads upwards.',
      '..': '.. leads upwards.',
      './sda': './sda is no device below /dev.',
      '': 'An empty name is no device below /dev.',
    };
    const said: Record<string, string> = {};
    for (const typed of Object.keys(expected)) {
      const run = await runInside(folder, ['capture', typed, '--out', 'one.json'], {}, programOf(system));
      expect(run).toMatchObject({ code: 2, stdout: '' });
      said[typed] = run.stderr.split('\n')[0]?.replace('swaplore: ', '') ?? '';
    }
    expect(said).toEqual(expected);
    expect(readdirSync(folder)).toEqual([]);
  });

  it('may be named by a link', async () => {
    const links = { 'disk/by-id/ata-NT10': '../../sda', 'disk/by-id/again': '/dev/disk/by-id/ata-NT10' };
    for (const typed of ['/dev/disk/by-id/ata-NT10', '/dev/disk/by-id/again']) {
      const { code, folder } = await captured([typed, '--out', 'one.json'], { links });
      expect(code).toBe(0);
      expect(written(folder)).toContain('NT10-21 TERN 1000');
    }
  });

  it('that is refused brings the names of those that would not be', async () => {
    expect((await captured(['nvme0n1', '--out', 'one.json'], { drives })).code).toBe(0);
    const { stderr } = await captured(['sdz', '--out', 'one.json'], { drives });
    expect(stderr).toContain('Drives that the kernel knows: nvme0n1, sda, sdb.');
  });

  it('cannot be captured where drives are not shown as on Linux', async () => {
    const run = await runInside(folderOf({}), ['capture', 'sda', '--out', 'one.json'], {}, programOf(undefined));
    expect(transcript(run)).toBe('! swaplore: Drives can be captured on Linux only.\nexit 2');
  });

  it.each([
    ['by itself', '8:0', '/dev/sda', 'rw,relatime'],
    ['by a partition', '8:2', '/dev/sda2', 'rw'],
    ['under a number of its own', '0:43', '/dev/sda2', 'rw,space_cache'],
    ['by what is made of it', '253:0', '/dev/mapper/vault', 'rw'],
  ])('that is mounted %s to be written to brings a caution', async (_, number, source, options) => {
    const held = { ...sata, files: { ...sata.files, 'holders/dm-0': '' } };
    const line = `36 25 ${number} / /mnt/my\\040disk rw,noatime shared:1 - ext4 ${source} ${options}\n`;
    const drive = { drives: [held, mapped], mountinfo: line };
    const { stdout } = await captured(['sda', '--out', 'one.json'], drive);
    expect(stdout.replaceAll('\n', ' ')).toContain('sda is mounted so that it can be written to, at /mnt/my disk.');
    const readOnly = await captured(['sda', '--out', 'one.json'], {
      ...drive,
      mountinfo: line.replace(`${source} rw`, `${source} ro`),
    });
    expect(readOnly.stdout).not.toContain('is mounted');
  });
});

describe('the file', () => {
  it('is never one that is there already, and nothing is asked before that is known', async () => {
    const smartctl = `touch ${besideIt}/ran`;
    const run = await captured(['sda', '--out', 'one.json', '--ask-drive'], {
      files: { 'one.json': 'mine' },
      programs: { smartctl },
    });
    expect(transcript(run)).toBe(
      '! swaplore: one.json is there already.\n! Nothing was written, and the drive was asked nothing.\nexit 2',
    );
    expect(written(run.folder)).toBe('mine');
    expect(existsSync(join(run.system.path, 'ran'))).toBe(false);
  });

  it.each([
    [[], 'capture needs --out FILE.'],
    [['--out', 'one.yaml'], 'one.yaml does not end in .json.'],
  ])('is asked for: %j', async (args, says) => {
    expect((await captured(['sda', ...args])).stderr).toContain(says);
  });

  it('is refused where it could never be written, before anything is asked', async () => {
    const run = await captured(['sda', '--out', 'notes/one.json'], { files: { notes: '' } });
    expect(transcript(run)).toBe(
      '! swaplore: notes/one.json cannot be written: a part of its path is no folder.\n! Nothing was written, and the drive was asked nothing.\nexit 2',
    );
  });

  it('is printed where it cannot be written', async () => {
    // The file itself has a name that is short enough; the one it is written under at first has not.
    const { stdout, stderr, code } = await captured(['sda', '--out', `${'a'.repeat(248)}.json`]);
    expect(code).toBe(2);
    expect(stderr).toContain('.json cannot be written: its name is too long.\nThe capture was printed instead.');
    expect(JSON.parse(stdout.slice(stdout.indexOf('{')))).toMatchObject({ capture: 1, values: { serial: '****4F2K' } });
  });
});

describe('serial numbers', () => {
  const full = { 'swaplore.yaml': 'swaplore: 1\nserials: full\n' };

  it.each([
    ['outside of bases', {}, [], '****4F2K'],
    ['outside of bases', {}, ['--serials', 'full'], 'WQ904F2K'],
    ['in a base', base, [], '****4F2K'],
    ['in a base whose config cannot be used', { 'swaplore.yaml': 'serials: full\n' }, [], '****4F2K'],
    ['in a base that keeps them in full', full, [], 'WQ904F2K'],
    ['in a base that keeps them in full', full, ['--serials', 'masked'], '****4F2K'],
    ['in a base', base, ['--serials', 'digest'], serialDigest('WQ904F2K', key)],
  ])('%s %j %j', async (_, files, args, serial) => {
    const { folder, stdout, code } = await captured(['sda', '--out', 'captures/one.json', ...args], { files });
    expect(code).toBe(0);
    const text = written(folder, 'captures/one.json');
    expect(JSON.parse(text).values.serial).toBe(serial);
    if (serial !== 'WQ904F2K') expect(text + stdout).not.toMatch(/WQ904F2K|QW09F4K2|5751393034463[24]/);
  });

  it.each(['masked', 'digest'])('cannot be tried out by the digest of a page where they are %s', async (how) => {
    const { folder } = await captured(['sda', '--out', 'one.json', '--serials', how]);
    expect(written(folder)).not.toContain(sha256(encodeVpd(0x80, asciiBytes('            WQ904F2K'))));
  });

  it('are not written in full into a base that masks them', async () => {
    const { stderr, code, folder } = await captured(['sda', '--out', 'one.json', '--serials', 'full'], { files: base });
    expect(code).toBe(2);
    expect(stderr).toContain('The base masks serial numbers, so none can be written in full.');
    expect(existsSync(join(folder, 'one.json'))).toBe(false);
  });

  it('are no digests without a key', async () => {
    const program = {
      ...programOf(fakeSystem([sata])),
      findSerialKey: () => ({ reason: 'There is none.', help: 'Make one.' }),
    };
    const run = await runInside(
      folderOf({}),
      ['capture', 'sda', '--out', 'one.json', '--serials', 'digest'],
      {},
      program,
    );
    expect(transcript(run)).toBe('! swaplore: There is none.\n! Make one.\nexit 2');
  });

  it('are written in one of three ways', async () => {
    expect((await captured(['sda', '--out', 'one.json', '--serials', 'none'])).stderr).toContain(
      '--serials cannot be none.\nName one of masked, full, digest.',
    );
  });
});

it('a base found by way of a link is that of the folder the file comes to lie in', async () => {
  const folder = folderOf({ 'base/swaplore.yaml': 'swaplore: 1\n', 'base/captures/note.txt': '' });
  symlinkSync(join(folder, 'base/captures'), join(folder, 'elsewhere'));
  const args = ['capture', 'sda', '--out', 'elsewhere/one.json', '--serials', 'full'];
  const run = await runInside(folder, args, {}, programOf(fakeSystem([sata])));
  expect(run.stderr).toContain('The base masks serial numbers');
});
