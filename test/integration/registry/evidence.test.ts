import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isSha256 } from '@/lib/files/blobStore';
import { addEvidence, removeEvidence } from '@/lib/registry/runs/addEvidence';
import { markEvidence } from '@/lib/registry/runs/markEvidence';
import { photosOf } from '@/lib/registry/runs/recordForm';
import { withdrawRun } from '@/lib/registry/runs/retractRun';
import { readRun } from '@/lib/registry/runs/run';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, InvalidInput, NotAllowed, NotFound, TooLarge } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { freshDatabase } from '@/test/helpers/database';
import { loopOf, person, registryOn, somePhoto, submitted, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let runId: string;
let form: RunForm;
beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  ({ runId } = await startDraft(registry, tester, { creationKey: 'with-photos' }));
  const vehicle = await vehicleOf(registry, tester);
  form = { carId: vehicle.carId, setupId: vehicle.baselineId, loopId: await loopOf(registry, tester) };
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
    const run = await submitted(registry, tester, form);
    const bytes = await somePhoto();
    await expect(addEvidence(registry, tester, { runId: run.runId, kind, bytes })).rejects.toThrow(Conflict);
    const sent = await prisma.evidenceFile.findFirstOrThrow({ where: { runId: run.runId, kind } });
    await expect(
      markEvidence(registry, tester, { runId: run.runId, evidenceId: sent.id, marks: [] }),
    ).rejects.toThrow(Conflict);
  });
});

describe('where a number is on its photo', () => {
  const mark = { field: 'tripEnergy', left: 0.1, top: 0.2, width: 0.3, height: 0.1 };
  const marksOf = async (evidenceId: string) =>
    (await photosOf(registry, tester, runId)).find(({ id }) => id === evidenceId)?.marks;

  it('is kept with the draft at once, told once in the log, and taken away again', async () => {
    const { evidenceId } = await addEvidence(registry, tester, { runId, kind, bytes: await somePhoto() });
    const put = (marks: unknown) => markEvidence(registry, tester, { runId, evidenceId, marks });
    await put([mark]);
    await put([mark]);
    expect(await marksOf(evidenceId)).toEqual([mark]);
    const told = { action: 'run.markEvidence', subjectId: runId };
    expect(await prisma.auditEntry.count({ where: told })).toBe(1);
    await put([]);
    expect(await marksOf(evidenceId)).toEqual([]);
  });

  it('is refused for others, for readings that such a photo does not show, and outside it', async () => {
    const { evidenceId } = await addEvidence(registry, tester, { runId, kind, bytes: await somePhoto() });
    const other = await person(registry, 'Sten Valk');
    const of = { runId, evidenceId };
    await expect(markEvidence(registry, other, { ...of, marks: [mark] })).rejects.toThrow(NotAllowed);
    await expect(markEvidence(registry, undefined, { ...of, marks: [mark] })).rejects.toThrow(NotAllowed);
    const ofStart = { ...mark, field: 'odometerStart' };
    for (const marks of [[ofStart], [{ ...mark, left: 0.8 }], [mark, mark], 'x'])
      await expect(markEvidence(registry, tester, { ...of, marks })).rejects.toThrow(InvalidInput);
    const { runId: elsewhere } = await startDraft(registry, tester, { creationKey: 'without-that-photo' });
    await expect(
      markEvidence(registry, tester, { runId: elsewhere, evidenceId, marks: [mark] }),
    ).rejects.toThrow(NotFound);
    expect(await marksOf(evidenceId)).toEqual([]);
  });

  it('goes along with what is sent, and stays there when the draft is changed', async () => {
    const run = await submitted(registry, tester, form);
    const again = async (left: number) => {
      await withdrawRun(registry, tester, { runId: run.runId });
      const { id: evidenceId } = await prisma.evidenceFile.findFirstOrThrow({
        where: { runId: run.runId, kind },
      });
      await markEvidence(registry, tester, { runId: run.runId, evidenceId, marks: [{ ...mark, left }] });
      const { draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: run.runId } });
      return submitRun(registry, tester, { runId: run.runId, draftVersion });
    };
    expect((await again(0.1)).revisionNumber).toBe(2);
    expect((await again(0.1)).revisionNumber).toBe(2);
    expect((await again(0.5)).revisionNumber).toBe(3);
    const kept = await prisma.revisionEvidence.findMany({
      where: { revision: { runId: run.runId }, evidence: { kind } },
      orderBy: { revision: { number: 'asc' } },
    });
    expect(kept.map(({ marks }) => marks)).toEqual([[], [mark], [{ ...mark, left: 0.5 }]]);
    const seen = await readRun(registry, tester, run.runNumber);
    const photo = seen?.photos.find((one) => one.kind === kind);
    expect(photo?.marks).toEqual([{ ...mark, left: 0.5 }]);
  });
});
