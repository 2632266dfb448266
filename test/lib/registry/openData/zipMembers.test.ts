import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import { openZip } from '@/lib/files/zipReader';
import { pathsOf } from '@/lib/openData/dataPackage';
import { RUNS } from '@/lib/openData/tables/runTables';
import { linesOf, recordsOf } from '@/lib/registry/openData/zipMembers';
import { writeMembers } from '@/test/helpers/snapshotFiles';

const folder = mkdtempSync(join(tmpdir(), 'evenloop-members-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const MB = 1024 * 1024;
let files = 0;
async function zipOf(content: { csv?: string; jsonLines?: string }) {
  const { csv, jsonLines } = pathsOf(RUNS);
  files += 1;
  const file = join(folder, `${files}.zip`);
  await writeMembers(
    new Map([
      [csv, Buffer.from(content.csv ?? '')],
      [jsonLines, Buffer.from(content.jsonLines ?? '')],
    ]),
    file,
  );
  return openZip(file);
}

async function countOf(rows: AsyncIterable<unknown>): Promise<number> {
  let count = 0;
  for await (const _row of rows) count += 1;
  return count;
}

describe('the lines of a member', () => {
  it('are all there, however late somebody asks for the first one', async () => {
    const zip = await zipOf({ jsonLines: 'x\n'.repeat(200_000) });
    const lines = await linesOf(zip, RUNS);
    await sleep(50);
    expect(await countOf(lines)).toBe(200_000);
    zip.close();
  });

  it('end with an error where one is too long to hold', async () => {
    const zip = await zipOf({
      jsonLines: `x\n${'y'.repeat(5 * MB)}\n`,
      csv: `a\r\n${'y'.repeat(5 * MB)}\r\n`,
    });
    await expect(linesOf(zip, RUNS).then(countOf)).rejects.toThrow(/longer than/);
    await expect(recordsOf(zip, RUNS).then(countOf)).rejects.toThrow(/[Mm]ax[ _][Rr]ecord/);
    zip.close();
  });

  it('may be many and long together', async () => {
    const zip = await zipOf({ jsonLines: `${'y'.repeat(MB)}\n`.repeat(6) });
    expect(await countOf(await linesOf(zip, RUNS))).toBe(6);
    zip.close();
  });
});
