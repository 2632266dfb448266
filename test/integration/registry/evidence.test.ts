import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isSha256 } from '@/lib/files/blobStore';
import { addEvidence, removeEvidence } from '@/lib/registry/runs/addEvidence';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { Conflict, InvalidInput, NotAllowed, NotFound, TooLarge } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { loopOf, person, registryOn, somePhoto, submitted, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let runId: string;
beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  ({ runId } = await startDraft(registry, tester, { creationKey: 'with-photos' }));
});

const kind = 'finishDisplay';

describe('a photo on a draft', () => {
  it('is kept without its metadata; the time of capture only with consent', async () => {
    const bytes = await sharp({ create: { width: 80, height: 60, channels: 3, background: '#446' } })
      .withExif({
        IFD0: { Make: 'Somecam', Copyright: 'somebody' },
        IFD2: { DateTimeOriginal: '2026:05:14 09:31:00' },
        IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' },
      })
      .jpeg()
      .toBuffer();
    const silent = await addEvidence(registry, tester, { runId, kind, bytes });
    const told = await addEvidence(registry, tester, { runId, kind, bytes, keepCaptureTime: true });
    const [without, withTime] = await Promise.all(
      [silent, told].map(({ evidenceId }) =>
        prisma.evidenceFile.findUniqueOrThrow({ where: { id: evidenceId } }),
      ),
    );
    expect(without?.capturedAt).toBeNull();
    expect(withTime?.capturedAt?.toISOString()).toBe('2026-05-14T09:31:00.000Z');
    const digest = without?.sha256 ?? '';
    if (!isSha256(digest)) throw new Error('no digest');
    const stored = await registry.blobs.get(digest);
    if (stored === null) throw new Error('no stored picture');
    const metadata = await sharp(stored).metadata();
    expect([metadata.exif, metadata.xmp, metadata.iptc]).toEqual([undefined, undefined, undefined]);
    expect(Buffer.from(stored).includes('Somecam')).toBe(false);
  });

  it('is one photo however often it is sent, even at once, and another under another kind', async () => {
    const bytes = await sharp({ create: { width: 70, height: 50, channels: 3, background: '#264' } })
      .jpeg()
      .toBuffer();
    const before = await prisma.evidenceFile.count({ where: { runId } });
    const send = () => addEvidence(registry, tester, { runId, kind, bytes });
    const first = await send();
    const again = await Promise.all([send(), send()]);
    expect(again).toEqual([first, first]);
    await addEvidence(registry, tester, { runId, kind: 'charger', bytes });
    expect(await prisma.evidenceFile.count({ where: { runId } })).toBe(before + 2);
    await removeEvidence(registry, tester, { runId, evidenceId: first.evidenceId });
    expect((await send()).evidenceId).not.toBe(first.evidenceId);
  });

  it('is refused above 20 MB and when it is none, and nothing is written', async () => {
    const before = await prisma.evidenceFile.count();
    const large = new Uint8Array(30 * 1024 * 1024);
    await expect(addEvidence(registry, tester, { runId, kind, bytes: large })).rejects.toThrow(TooLarge);
    const notAPhoto = new TextEncoder().encode('%PDF-1.7 not a photo');
    await expect(addEvidence(registry, tester, { runId, kind, bytes: notAPhoto })).rejects.toThrow(
      InvalidInput,
    );
    const truncated = (await somePhoto()).slice(0, 40);
    await expect(addEvidence(registry, tester, { runId, kind, bytes: truncated })).rejects.toThrow(
      InvalidInput,
    );
    expect(await prisma.evidenceFile.count()).toBe(before);
  });

  it('belongs to its tester’s draft alone', async () => {
    const other = await person(registry, 'Jonas Reet');
    const bytes = await somePhoto();
    await expect(addEvidence(registry, other, { runId, kind, bytes })).rejects.toThrow(NotAllowed);
    const nowhere = '018f0000-0000-7000-8000-00000000ffff';
    await expect(addEvidence(registry, tester, { runId: nowhere, kind, bytes })).rejects.toThrow(NotFound);
    await expect(removeEvidence(registry, tester, { runId, evidenceId: nowhere })).rejects.toThrow(NotFound);
  });

  it('cannot be changed once the run is submitted', async () => {
    const vehicle = await vehicleOf(registry, tester);
    const loopId = await loopOf(registry, tester);
    const run = await submitted(registry, tester, {
      carId: vehicle.carId,
      setupId: vehicle.baselineId,
      loopId,
    });
    const bytes = await somePhoto();
    await expect(addEvidence(registry, tester, { runId: run.runId, kind, bytes })).rejects.toThrow(Conflict);
  });
});
