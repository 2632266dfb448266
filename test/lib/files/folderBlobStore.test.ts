import { mkdtemp, readdir, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BlobDamaged, digestOf, fanOutPath, isSha256, type Sha256 } from '@/lib/files/blobStore';
import { folderBlobStore } from '@/lib/files/folderBlobStore';

const text = (words: string) => new TextEncoder().encode(words);

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'blobs-'));
});
afterEach(async () => {
  await rm(folder, { recursive: true });
});

describe('digestOf', () => {
  it('agrees with the example vectors of NIST for SHA-256 (FIPS 180-4 examples: "abc", two-block message)', () => {
    expect(digestOf(text('abc'))).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(digestOf(text('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq'))).toBe(
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    );
  });

  it('refuses to build a path from anything but a digest', () => {
    expect(isSha256('../../etc')).toBe(false);
    expect(isSha256('A'.repeat(64))).toBe(false);
    expect(() => fanOutPath('../../../escape' as Sha256)).toThrow(TypeError);
  });
});

describe('a sweep of the folder', () => {
  const old = new Date(Date.now() - 3 * 86_400_000);
  const before = new Date(Date.now() - 86_400_000);
  const age = (digest: Sha256) => utimes(join(folder, fanOutPath(digest)), old, old);

  it('takes what is old and unnamed, and nothing else', async () => {
    const store = folderBlobStore(folder);
    const [named, nameless, young] = await Promise.all(
      ['a', 'b', 'c'].map((words) => store.put(text(words))),
    );
    if (!named || !nameless || !young) throw new Error('not put');
    await age(named);
    await age(nameless);
    await writeFile(join(folder, 'incoming', 'half-written'), 'x');
    await utimes(join(folder, 'incoming', 'half-written'), old, old);
    expect(await store.sweep?.(before, async () => new Set([named]))).toBe(1);
    expect(await Promise.all([named, nameless, young].map((each) => store.has(each)))).toEqual([
      true,
      false,
      true,
    ]);
    expect(await readdir(join(folder, 'incoming'))).toEqual([]);
  });

  it('spares what is put, or named, while it looks, and what an earlier one left set aside', async () => {
    const store = folderBlobStore(folder);
    const [putAgain, namedLate, aside] = await Promise.all(
      ['a', 'b', 'c'].map((words) => store.put(text(words))),
    );
    if (!putAgain || !namedLate || !aside) throw new Error('not put');
    for (const digest of [putAgain, namedLate, aside]) await age(digest);
    await rename(join(folder, fanOutPath(aside)), join(folder, 'incoming', `leaving-${aside}`));
    const asked: (readonly Sha256[])[] = [];
    const named = new Set<string>([aside]);
    const swept = await store.sweep?.(before, async (digests) => {
      asked.push(digests);
      if (digests.includes(putAgain)) await store.put(text('a'));
      const known = new Set(named);
      if (digests.includes(namedLate)) named.add(namedLate);
      return known;
    });
    expect(swept).toBe(0);
    expect(asked.length).toBeGreaterThan(3);
    for (const [digest, words] of [
      [putAgain, 'a'],
      [namedLate, 'b'],
      [aside, 'c'],
    ] as const)
      expect(await store.get(digest)).toEqual(Buffer.from(words));
    expect(await readdir(join(folder, 'incoming'))).toEqual([]);
  });
});

describe('folderBlobStore', () => {
  it('returns what was put, under two levels of folders, and leaves nothing temporary behind', async () => {
    const store = folderBlobStore(folder);
    const digest = await store.put(text('abc'));
    expect(digest.startsWith('ba78')).toBe(true);
    expect(await store.get(digest)).toEqual(Buffer.from('abc'));
    expect(await store.has(digest)).toBe(true);
    expect((await stat(join(folder, 'ba', '78', digest))).size).toBe(3);
    expect(await readdir(join(folder, 'incoming'))).toEqual([]);
  });

  it('keeps a blob once, also when many writers put it at the same time', async () => {
    const store = folderBlobStore(folder);
    const digests = await Promise.all(Array.from({ length: 20 }, () => store.put(text('same'))));
    expect(new Set(digests).size).toBe(1);
    const [digest] = digests as [Sha256];
    expect(await readdir(join(folder, digest.slice(0, 2), digest.slice(2, 4)))).toEqual([digest]);
    expect(await readdir(join(folder, 'incoming'))).toEqual([]);
  });

  it('says null for what it does not hold, and forgets what is removed', async () => {
    const store = folderBlobStore(folder);
    const digest = digestOf(text('never stored'));
    expect(await store.get(digest)).toBeNull();
    expect(await store.has(digest)).toBe(false);
    await store.remove(digest);
    await store.put(text('never stored'));
    await store.remove(digest);
    expect(await store.has(digest)).toBe(false);
  });

  it('refuses to hand out bytes that changed on the disk', async () => {
    const store = folderBlobStore(folder);
    const digest = await store.put(text('abc'));
    await writeFile(join(folder, fanOutPath(digest)), 'abd');
    await expect(store.get(digest)).rejects.toBeInstanceOf(BlobDamaged);
  });

  it('round-trips any bytes', async () => {
    const store = folderBlobStore(folder);
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 2000 }), async (bytes) => {
        const back = await store.get(await store.put(bytes));
        expect(back !== null && Buffer.compare(back, bytes) === 0).toBe(true);
      }),
      { numRuns: 30 },
    );
  });
});
