import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseGpx } from '@/lib/capture/trace/gpx';
import { traceLimits } from '@/lib/capture/trace/tracePoint';
import { coastDrive, drive, toGpx } from './syntheticDrive';

const wrap = (inside: string, head = '<?xml version="1.0" encoding="UTF-8"?>') =>
  `${head}<gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1">${inside}</gpx>`;
const track = (points: string) => wrap(`<trk><trkseg>${points}</trkseg></trk>`);
const bytes = (text: string) => new TextEncoder().encode(text);
const message = (input: string | Uint8Array) => {
  const result = parseGpx(input);
  return result.ok ? 'accepted' : result.message;
};

describe('parseGpx by the rules of GPX 1.1 (gpx.xsd: trkType, trksegType, wptType, latitudeType, longitudeType)', () => {
  it('takes tracks and segments in order, with height, time and a speed from extensions of any namespace', () => {
    const result = parseGpx(`<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<gpx:gpx xmlns:gpx="http://www.topografix.com/GPX/1/1" xmlns:x="urn:example:logger:2" version="1.1" creator="logger">
  <gpx:metadata><gpx:name>Forest loop</gpx:name><gpx:time>2026-05-01T08:00:00Z</gpx:time></gpx:metadata>
  <gpx:wpt lat="1" lon="1"><gpx:ele>9</gpx:ele><gpx:name>Charger</gpx:name></gpx:wpt>
  <gpx:trk><gpx:name>second name</gpx:name>
    <gpx:trkseg>
      <gpx:trkpt lat="47.644548" lon="-122.326897"><gpx:ele>4.46</gpx:ele><gpx:time>2009-10-17T18:37:26Z</gpx:time>
        <gpx:extensions><x:TrackPoint><x:speed>12.5</x:speed><x:hr>99</x:hr></x:TrackPoint></gpx:extensions></gpx:trkpt>
      <gpx:trkpt lat="47.644549" lon="-122.326898"><gpx:ele><![CDATA[ 4.94 ]]></gpx:ele><gpx:time>2009-10-17T20:37:31+02:00</gpx:time></gpx:trkpt>
    </gpx:trkseg>
    <gpx:trkseg><gpx:trkpt lat="-90" lon="-180"/></gpx:trkseg>
  </gpx:trk>
</gpx:gpx>`);
    if (!result.ok) throw new Error(result.message);
    expect(result.name).toBe('Forest loop');
    expect(result.pointsRead).toBe(3);
    expect(result.points[0]).toEqual({
      latitudeDeg: 47.644548,
      longitudeDeg: -122.326897,
      elevationM: 4.46,
      timeMs: Date.UTC(2009, 9, 17, 18, 37, 26),
      speedMps: 12.5,
      powerW: null,
    });
    expect(result.points[1]).toMatchObject({
      elevationM: 4.94,
      timeMs: Date.UTC(2009, 9, 17, 18, 37, 31),
      speedMps: null,
    });
    expect(result.points[2]).toMatchObject({
      latitudeDeg: -90,
      longitudeDeg: -180,
      elevationM: null,
      timeMs: null,
    });
  });

  it('reads the speed element of GPX 1.0, and a route where there is no track', () => {
    const old = parseGpx(
      '<gpx version="1.0" creator="t" xmlns="http://www.topografix.com/GPX/1/0"><trk><trkseg><trkpt lat="1" lon="2"><speed>7</speed></trkpt></trkseg></trk></gpx>',
    );
    expect(old.ok && old.points[0]?.speedMps).toBe(7);
    const route = parseGpx(wrap('<rte><rtept lat="1" lon="2"/><rtept lat="1" lon="3"/></rte>'));
    expect(route.ok && route.notes).toEqual(['The file holds a planned route, not a recorded track.']);
  });

  it('names each point it cannot use: read = used + refused', () => {
    const result = parseGpx(
      track(
        '<trkpt lat="91" lon="0"/><trkpt lat="5" lon="181"/><trkpt lat="x" lon="0"/><trkpt lon="3"/><trkpt lat="0" lon="0"/><trkpt lat="5" lon="6"/><trkpt lat="1e1" lon="0x10"/>',
      ),
    );
    if (!result.ok) throw new Error(result.message);
    expect(result.pointsRead).toBe(7);
    expect(result.points).toHaveLength(1);
    expect(result.refusedPoints.map(({ ordinal }) => ordinal)).toEqual([1, 2, 3, 4, 5, 7]);
  });

  it('takes a time without a zone as UTC and says so; a bad time is missing, not invented', () => {
    const result = parseGpx(
      track(
        '<trkpt lat="1" lon="1"><time>2026-05-01T10:00:00</time></trkpt><trkpt lat="1" lon="1"><time>yesterday</time></trkpt>',
      ),
    );
    if (!result.ok) throw new Error(result.message);
    expect(result.points.map(({ timeMs }) => timeMs)).toEqual([Date.UTC(2026, 4, 1, 10), null]);
    expect(result.notes).toHaveLength(2);
  });

  it('reads UTF-8 with a mark, UTF-16 and Latin-1', () => {
    const name = (encoding: string) =>
      wrap(
        '<trk><name>Höhe</name><trkseg><trkpt lat="1" lon="2"/></trkseg></trk>',
        `<?xml version="1.0" encoding="${encoding}"?>`,
      );
    const utf16 = (text: string, little: boolean) => {
      const out = Buffer.from(`\uFEFF${text}`, 'utf16le');
      return little ? out : out.swap16();
    };
    for (const file of [
      Buffer.from(`\uFEFF${name('UTF-8')}`, 'utf8'),
      utf16(name('UTF-16'), true),
      utf16(name('UTF-16'), false),
      Buffer.from(name('ISO-8859-1'), 'latin1'),
    ]) {
      const result = parseGpx(file);
      expect(result.ok && result.name).toBe('Höhe');
    }
  });
});

describe('parseGpx refuses', () => {
  it('entities, before any is expanded', () => {
    const bomb = `<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa">${Array.from({ length: 20 }, (_, i) => `<!ENTITY b${i} "&${i === 0 ? 'a' : `b${i - 1}`};&${i === 0 ? 'a' : `b${i - 1}`};">`).join('')}]><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>&b19;</name></trk></gpx>`;
    expect(message(bomb)).toContain('document type');
    expect(message('<!DOCTYPE gpx SYSTEM "file:///etc/passwd"><gpx/>')).toContain('document type');
    expect(message(track('<trkpt lat="1" lon="1"><ele>&undeclared;</ele></trkpt>'))).toContain(
      'not well-formed',
    );
  });

  it('depth, length and number without end', () => {
    expect(message(wrap('<a>'.repeat(100_000)))).toContain('nested more deeply');
    const small = { ...traceLimits, maxPoints: 3 };
    const result = parseGpx(track('<trkpt lat="1" lon="1"/>'.repeat(5)), small);
    expect(!result.ok && result.message).toBe('The trace has more than 3 points.');
    const big = parseGpx(new Uint8Array(100), { ...traceLimits, maxBytes: 99 });
    expect(!big.ok && big.message).toContain('larger than');
    const longText = parseGpx(track(`<trkpt lat="1" lon="1"><ele>${'9'.repeat(5_000_000)}</ele></trkpt>`));
    expect(longText.ok && longText.points[0]?.elevationM).toBeNull();
  });

  it('other content, with the line', () => {
    expect(message('')).toBe('The file is empty.');
    expect(message('latitude,longitude\n1,2')).toContain('not well-formed');
    expect(message('<kml xmlns="http://www.opengis.net/kml/2.2"></kml>')).toContain('not GPX 1.1');
    expect(message('<gpx version="1.1"></gpx>')).toContain('not GPX 1.1');
    expect(message(wrap(''))).toBe('The file holds no track and no route.');
    expect(message(Buffer.from([0x3c, 0x67, 0xc3, 0x28]))).toContain('not UTF-8');
    expect(message(bytes('<?xml version="1.0" encoding="EBCDIC-XX"?><gpx/>'))).toContain(
      'encoding "ebcdic-xx"',
    );
    const cut = parseGpx(
      '<?xml version="1.0"?>\n<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">\n<trk>\n</trkseg>',
    );
    expect(!cut.ok && cut.line).toBe(4);
  });

  it('a file cut off anywhere, as data', () => {
    const whole = toGpx(drive({ ...coastDrive, pieces: [{ lengthM: 2000, bearingDeg: 40 }] }).points);
    fc.assert(
      fc.property(fc.nat({ max: whole.length - 1 }), (length) => {
        const result = parseGpx(whole.slice(0, length));
        expect(result.ok).toBe(false);
      }),
    );
    expect(parseGpx(whole).ok).toBe(true);
  });

  it('any bytes and any damage, as data', () => {
    const whole = Buffer.from(
      toGpx(drive({ ...coastDrive, pieces: [{ lengthM: 1500, bearingDeg: 40 }] }).points.slice(0, 30)),
    );
    fc.assert(fc.property(fc.uint8Array({ maxLength: 400 }), (input) => void parseGpx(input)));
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(), fc.nat({ max: 255 })), { maxLength: 6 }), (changes) => {
        const damaged = Buffer.from(whole);
        for (const [at, byte] of changes) damaged[at % damaged.length] = byte;
        const result = parseGpx(damaged);
        if (result.ok) expect(result.points.length + result.refusedPoints.length).toBe(result.pointsRead);
        else expect(result.message.length).toBeGreaterThan(10);
      }),
    );
  });
});
