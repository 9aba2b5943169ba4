/**
 * What shops call things in their tables, in English and German, beside the names and titles that keys have here. All is written as ids
 * are. Source: common practice, no source.
 */

/** A drive's part in a swap. */
export type Role = 'patient' | 'donor';

/** Words of a heading that say of which drive it tells. */
export const roleWords: Readonly<Record<Role, readonly string[]>> = {
  patient: ['patient', 'patienten', 'kunde', 'kunden', 'kundenplatte', 'customer', 'target', 'original'],
  donor: ['donor', 'spender', 'spenderplatte', 'teilespender', 'ersatz', 'parts'],
};

/** Headings of columns that number the drives. */
export const numberWords: readonly string[] = [
  ...['nr', 'no', 'id', 'number', 'nummer', 'lfd-nr', 'inv', 'inv-nr', 'inventar', 'inventory', 'stock-no', 'lager-nr'],
  ...['drive', 'drive-no', 'disk', 'hdd', 'platte', 'platten-nr', 'festplatte'],
];

/** Headings by the key of a drive. */
export const driveWords: Readonly<Record<string, readonly string[]>> = {
  family: ['familie', 'baureihe', 'serie', 'series'],
  model: ['modell', 'typ', 'type', 'model-no', 'mdl'],
  part_number: ['p-n', 'pn', 'artikelnummer', 'teilenummer', 'part-no'],
  serial: ['s-n', 'sn', 'seriennummer', 'seriennr', 'serien-nr', 'serial-no'],
  wwn: ['world-wide-name'],
  firmware: ['fw', 'f-w', 'firmwarestand'],
  made: ['dom', 'mfg-date', 'mfg', 'baujahr', 'herstelldatum', 'hergestellt', 'produktionsdatum', 'manufactured'],
  date_code: ['datecode', 'dc', 'datumscode'],
  site: ['werk', 'factory', 'site-code'],
  country: ['land', 'herkunft', 'made-in', 'origin'],
  capacity_gb: ['capacity', 'kapazitaet', 'groesse', 'size'],
  heads: ['koepfe', 'kopfzahl', 'no-of-heads'],
  power_on_hours: ['poh', 'hours', 'betriebsstunden', 'stunden'],
  'board.id': ['pcb', 'board', 'platine', 'leiterplatte', 'pcb-no', 'platinen-nr'],
  'board.rev': ['rev', 'revision', 'pcb-rev', 'board-rev', 'platine-rev', 'platinen-rev'],
  'shelf.place': ['shelf', 'lagerort', 'lager', 'regal', 'location', 'place', 'fach'],
  'condition.fault': ['fault', 'fehler', 'fehlerbild', 'symptom', 'symptoms', 'schaden'],
  encrypted: ['verschluesselt', 'encryption'],
};

/** Headings by the key of an outcome. */
export const outcomeWords: Readonly<Record<string, readonly string[]>> = {
  date: ['datum', 'tag', 'tested-on', 'getestet', 'getestet-am'],
  by: ['techniker', 'technician', 'bearbeiter', 'tech', 'von', 'wer'],
  rom: ['chip', 'rom-chip', 'rom-swap', 'bios', 'rom-getauscht', 'rom-umgeloetet'],
  'host.name': ['host', 'bench', 'pc', 'rechner', 'arbeitsplatz'],
  'host.port': ['port', 'anschluss'],
  'observed.spins': ['dreht', 'dreht-an', 'spin', 'spin-up', 'laeuft-an'],
  'observed.sound': ['sound', 'noise', 'geraeusch', 'geraeusche'],
  'observed.powered_minutes': ['minutes', 'minuten', 'laufzeit'],
  reached: ['stage', 'stufe', 'erreicht', 'kam-bis'],
  result: ['ergebnis', 'erfolg', 'status', 'outcome', 'success', 'works', 'laeuft', 'geht'],
  notes: [
    'note',
    'notizen',
    'notiz',
    'bemerkung',
    'bemerkungen',
    'kommentar',
    'comment',
    'comments',
    'remarks',
    'anmerkung',
  ],
};

/** Words in cells for what a key may be. Where a word could mean something else, whoever reads the map is asked. */
export const cellWords: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  boolean: {
    true: ['yes', 'y', 'ja', 'j', 'x', 'ok', '1', 'wahr'],
    false: ['no', 'n', 'nein', '0', 'falsch'],
  },
  result: {
    works: ['ok', 'yes', 'ja', 'geht', 'laeuft', 'success', 'erfolg', 'erfolgreich', 'works', 'funktioniert'],
    fails: ['no', 'nein', 'failed', 'fail', 'tot', 'dead', 'geht-nicht', 'misserfolg', 'nok', 'n-ok'],
    inconclusive: ['unklar', 'unclear', 'offen', 'open', 'unknown', 'unbekannt'],
  },
  reached: {
    nothing: ['nichts', 'none', 'tot', 'dead', 'no-spin'],
    spins: ['dreht', 'spin', 'laeuft-an', 'spin-up'],
    ready: ['bereit'],
    detected: ['erkannt', 'id-ok', 'bios', 'identified'],
    reads: ['liest', 'read', 'lesbar', 'gelesen'],
    verified: ['geprueft', 'verifiziert'],
  },
  rom: {
    left: ['no', 'nein', 'none', 'nicht', 'ohne'],
    chip_moved: ['chip', 'umgeloetet', 'moved', 'chip-umgeloetet', 'transplant', 'getauscht'],
    image_written: ['geschrieben', 'written', 'programmed', 'programmiert', 'kopiert', 'flashed', 'copied'],
    controller_moved: ['controller', 'mcu', 'cpu'],
  },
  sound: {
    clicking: ['klickt', 'klackert', 'clicks', 'klick'],
    grinding: ['schleift', 'kratzt', 'grinds'],
    beeping: ['piept', 'beeps', 'fiept'],
    silent: ['stumm', 'still', 'none', 'nichts'],
  },
};

/** Cells that say no more than a blank one. */
export const blankWords: readonly string[] = [
  '-',
  '--',
  '---',
  '?',
  '??',
  'n/a',
  'na',
  'k.a.',
  'k. a.',
  'unbekannt',
  'unknown',
  'tbd',
  '/',
];
