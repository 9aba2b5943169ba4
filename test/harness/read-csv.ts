/** The fields of CSV, record by record; null where nothing stands. Written by RFC 4180 alone, beside what writes it. */
export function readCsv(text: string): (string | null)[][] {
  const records: (string | null)[][] = [];
  let record: (string | null)[] = [];
  for (let at = 0; at < text.length; ) {
    const isQuoted = text[at] === '"';
    let field = '';
    if (isQuoted) {
      for (at++; text[at] !== '"' || text[at + 1] === '"'; at++) {
        if (at >= text.length) throw new Error('A quoted field has no end');
        field += text[at];
        if (text[at] === '"') at++;
      }
      at++;
    } else {
      for (; at < text.length && text[at] !== ',' && text[at] !== '\r'; at++) {
        if (text[at] === '"' || text[at] === '\n') throw new Error('A field needs quotes');
        field += text[at];
      }
    }
    record.push(isQuoted || field !== '' ? field : null);
    if (text[at] === ',') at++;
    else if (text.startsWith('\r\n', at)) {
      records.push(record);
      record = [];
      at += 2;
      continue;
    } else throw new Error(`A field ends with ${JSON.stringify(text[at])}`);
    if (text.startsWith('\r\n', at)) {
      record.push(null);
      records.push(record);
      record = [];
      at += 2;
    }
  }
  return records;
}
