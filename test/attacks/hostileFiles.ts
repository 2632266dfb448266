import { gzipSync } from 'node:zlib';

const text = (words: string) => new TextEncoder().encode(words);

/** A PNG that says it is 60 000 pixels square, in a hundred bytes: IHDR by the PNG specification, 11.2.2. */
function hugePng(): Uint8Array {
  const header = Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex');
  const size = Buffer.alloc(8);
  size.writeUInt32BE(60_000, 0);
  size.writeUInt32BE(60_000, 4);
  return Buffer.concat([header, size, Buffer.from('0806000000', 'hex'), Buffer.alloc(60)]);
}

/** Sent where a photo is taken. */
export const NO_PHOTOS: Readonly<Record<string, Uint8Array>> = {
  'a page': text('<!doctype html><script>alert(1)</script>'),
  'a drawing with a script': text('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
  'a program': Buffer.concat([Buffer.from('7f454c46020101', 'hex'), Buffer.alloc(400)]),
  'a document': text('%PDF-1.7\n1 0 obj<</S/JavaScript/JS(app.alert(1))>>endobj'),
  'a JPEG by its first bytes alone': Buffer.concat([Buffer.from('ffd8ffe0', 'hex'), Buffer.alloc(300, 7)]),
  'a JPEG with a page in it': Buffer.concat([
    Buffer.from('ffd8ffe1', 'hex'),
    text('<script>alert(1)</script>'),
  ]),
  'a picture of 60 000 pixels square': hugePng(),
  'an archive': gzipSync(Buffer.alloc(100_000)),
  nothing: new Uint8Array(),
};

const entity = (name: string, of: string) => `<!ENTITY ${name} "${`&${of};`.repeat(10)}">`;
const LAUGHS = `<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "ha">${entity('b', 'a')}${entity('c', 'b')}${entity('d', 'c')}]><gpx><trk><name>&d;</name></trk></gpx>`;

/** Sent where a recording is taken. */
export const NO_RECORDINGS: Readonly<Record<string, readonly [name: string, bytes: Uint8Array]>> = {
  'entities upon entities': ['a.gpx', text(LAUGHS)],
  'a file of this machine': [
    'a.gpx',
    text('<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/passwd">]><gpx>&x;</gpx>'),
  ],
  'a page': ['a.gpx', text('<html><script>alert(1)</script></html>')],
  'a bomb of zeros': ['a.gpx.gz', gzipSync(Buffer.alloc(60 * 1024 * 1024))],
  'deep brackets': ['a.geojson', text('['.repeat(200_000))],
  'numbers that are none': ['a.csv', text(`time,lat,lon\n${'2026-05-01T08:00:00Z,1e999,NaN\n'.repeat(50)}`)],
  'a name that leads elsewhere': ['../../../../etc/cron.d/x', text('x')],
};
