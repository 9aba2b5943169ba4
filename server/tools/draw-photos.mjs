// Draws the boards of the demo base: one SVG for every `photos` entry of a board's revisions. The boards are invented, so there is
// nothing to photograph. `--check` writes nothing and fails where a drawing is missing or out of date.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, normalize } from 'node:path';
import { parseAllDocuments } from 'yaml';

const base = 'knowledge';
const ink = '#23313f';
const width = 800;

/** What the `shows` texts point at and no key records: a box each, `dashed` where a part is absent. */
const details = {
  'dunvarrow-k240-1': [coil(92, 356), coil(132, 356)],
  'dunvarrow-u077-x1': [{ label: 'VNO118', x: 352, y: 366, w: 96, h: 44 }],
  'skarnbeck-2210-a': [coil(590, 58), coil(630, 58), coil(670, 58)],
  'skarnbeck-2210-c': [{ x: 546, y: 88, w: 108, h: 30, dashed: true }],
  'skarnbeck-3340-r1': [{ label: 'J4', x: 62, y: 300, w: 18, h: 66 }, dot(71, 288), dot(71, 378)],
  'skarnbeck-3340-r3': [dot(71, 310), dot(71, 334), dot(71, 358)],
  'skarnbeck-3355-p': [{ x: 540, y: 330, w: 110, h: 70, dashed: true }],
  'skarnbeck-5107-1': [
    { label: 'S1', x: 690, y: 60, w: 40, h: 20 },
    { label: 'S2', x: 690, y: 90, w: 40, h: 20 },
  ],
  'skarnbeck-5107-3': [
    { label: 'S1', x: 250, y: 340, w: 40, h: 20 },
    { label: 'S2', x: 250, y: 370, w: 40, h: 20 },
  ],
  'wranholm-25p7-5': [{ label: 'F1', x: 640, y: 400, w: 40, h: 18 }],
};

const chipSizes = {
  soic8_150mil: [56, 40],
  soic8_208mil: [60, 56],
  soic16: [96, 60],
  wson8_6x5: [54, 46],
  wson8_8x6: [74, 56],
  nand: [110, 70],
};

const plugs = {
  pata: [{ x: 430, w: 250, pins: 22 }],
  sata: [
    { x: 430, w: 90, pins: 7 },
    { x: 540, w: 160, pins: 15 },
  ],
  sas: [{ x: 430, w: 270, pins: 29 }],
  usb: [{ x: 355, w: 90, pins: 10 }],
};

const check = process.argv.includes('--check');
let stale = 0;
for (const { path, text } of drawings()) {
  if (check && readOr(path) !== text) {
    console.error(`${path} is out of date: run node server/tools/draw-photos.mjs`);
    stale++;
  } else if (!check) {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
  }
}
process.exitCode = stale > 0 ? 1 : 0;

/** Every drawing that a board record asks for. */
function drawings() {
  const families = new Map(records('families').map((family) => [family.id, family]));
  return records('boards').flatMap((board) =>
    board.revisions.flatMap((revision) =>
      (revision.photos ?? []).map(({ file }) => ({
        path: normalize(join(base, 'boards', file)),
        text: draw(board, revision, families.get(board.families[0]), details[basename(file, '.svg')] ?? []),
      })),
    ),
  );
}

function records(folder) {
  const names = readdirSync(join(base, folder)).filter((name) => name.endsWith('.yaml'));
  return names.flatMap((name) =>
    parseAllDocuments(readFileSync(join(base, folder, name), 'utf8')).map((document) => document.toJS()),
  );
}

function draw(board, revision, family, extra) {
  const title = `Board ${board.part_number}, revision ${revision.rev}`;
  const mirrored = seed(board.id) % 2 === 1;
  const place = (box) => (mirrored ? { ...box, x: width - box.x - box.w } : box);
  const boxes = [...chips(revision), ...extra].map(place).map(chip);
  const parts = [
    outline(family.form_factor, mirrored),
    ...pads(revision.contact_pads ?? 0),
    ...plugs[board.interface].map(place).flatMap(plug),
    ...boxes,
    label(width / 2, 434, `${board.part_number}  ${revision.rev}`, 20),
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} 500" role="img" font-family="monospace" fill="none" stroke="${ink}" stroke-width="2">
<title>${title}</title>
<rect width="${width}" height="500" fill="#f6f4ee" stroke="none"/>
${parts.join('\n')}
</svg>
`;
}

function chips({ controller, motor_driver: driver, ram_mb: ram, roms = [] }) {
  const [first, second] = roms.map(({ location, package: form }) => ({ label: location, form, ...sized(form) }));
  return [
    { label: [controller].flat()[0], x: 325, y: 180, w: 150, h: 150, legs: 'all' },
    { label: [driver].flat()[0], x: 120, y: 150, w: 104, h: 104, legs: 'all' },
    { label: `${ram} MB`, x: 540, y: 130, w: 120, h: 64, legs: 'sides' },
    ...(first ? [{ ...first, x: 550, y: 238 }] : []),
    ...(second ? [{ ...second, x: 540, y: 330 }] : []),
  ];
}

function sized(form) {
  const [w, h] = chipSizes[form];
  return { w, h, legs: form.startsWith('soic') ? 'sides' : undefined };
}

/** One part: its body, its legs as a dashed line behind it, its marking. */
function chip({ label: text, x, y, w, h, legs, dashed, round }) {
  if (round) return `<circle cx="${x + w / 2}" cy="${y + h / 2}" r="${w / 2}"/>`;
  const behind = {
    all: `<rect x="${x - 5}" y="${y - 5}" width="${w + 10}" height="${h + 10}" stroke-width="9" stroke-dasharray="3 5"/>`,
    sides: `<path d="M${x + 4} ${y - 5}h${w - 8}M${x + 4} ${y + h + 5}h${w - 8}" stroke-width="9" stroke-dasharray="5 8"/>`,
  };
  const body = `<rect x="${x}" y="${y}" width="${w}" height="${h}"${dashed ? ' stroke-dasharray="6 5"' : ' fill="#fff"'}/>`;
  const size = text ? Math.min(18, Math.floor((1.5 * w) / text.length)) : 0;
  return [behind[legs], body, text && label(x + w / 2, y + h / 2 + size / 3, text, size)].filter(Boolean).join('\n');
}

/** Rectangular with a bite for the spindle, or, on the small drives, with one corner cut away. */
function outline(formFactor, mirrored) {
  const path =
    formFactor === '3.5in'
      ? 'M52 40H748a12 12 0 0 1 12 12V448H40V300a46 46 0 0 0 0-92V52a12 12 0 0 1 12-12Z'
      : 'M52 40H690L760 110V448H40V52a12 12 0 0 1 12-12Z';
  const holes = [64, 736].map((x) => `<circle cx="${x}" cy="424" r="9"/>`).join('');
  const turn = mirrored ? ` transform="translate(${width}) scale(-1 1)"` : '';
  return `<g${turn}><path d="${path}" fill="#fff" stroke-width="3"/>${holes}</g>`;
}

/** The contacts to the heads, in two rows. */
function pads(count) {
  const perRow = Math.ceil(count / 2);
  return Array.from({ length: count }, (_, place) => {
    const x = width / 2 - perRow * 9 + (place % perRow) * 18 + 2;
    return `<rect x="${x}" y="${place < perRow ? 58 : 80}" width="14" height="14" fill="#e3c765"/>`;
  });
}

function plug({ x, w, pins }) {
  const step = (w - 12) / pins;
  const contacts = Array.from({ length: pins }, (_, pin) => `M${round1(x + 6 + step * (pin + 0.5))} 452v18`).join('');
  return [`<rect x="${x}" y="446" width="${w}" height="30" fill="#fff"/>`, `<path d="${contacts}"/>`];
}

function label(x, y, text, size) {
  return `<text x="${x}" y="${round1(y)}" font-size="${size}" text-anchor="middle" fill="${ink}" stroke="none" xml:space="preserve">${text}</text>`;
}

function coil(x, y) {
  return { x, y, w: 30, h: 30, round: true };
}

function dot(x, y) {
  return { x, y, w: 8, h: 8, round: true };
}

function round1(value) {
  return Math.round(value * 10) / 10;
}

/** A number that depends on the text alone. */
function seed(text) {
  return [...text].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 9973, 7);
}

function readOr(path) {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}
