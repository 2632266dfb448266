import { isDeepStrictEqual } from 'node:util';
import { countedRow } from '@/lib/reduction/countedRow';
import { WORLDS, type WorldKey } from '@/lib/run/world';
import { countCounted, countedRowsOf, wideResults } from '@/lib/store/countedRuns';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';

export interface CountedCheck {
  world: WorldKey;
  methodVersion: string;
  /** Approved runs in the wide record. */
  approved: number;
  /** The first of what is wrong, in words; empty where each approved run has its one row, with its numbers. */
  differences: string[];
}

const BATCH = 500;
const MOST_DIFFERENCES = 20;

/** Compares the counted runs that each world shows with the wide record, run by run, in batches. */
export async function checkCounted(registry: Registry): Promise<CountedCheck[]> {
  const checks: CountedCheck[] = [];
  for (const world of WORLDS) checks.push(await checkWorld(registry, world));
  return checks;
}

async function checkWorld(registry: Registry, world: WorldKey): Promise<CountedCheck> {
  const methodVersion = await shownLabel(registry.db, world);
  const differences: string[] = [];
  let approved = 0;
  let afterId: string | undefined;
  for (;;) {
    const wide = await wideResults(registry.db, methodVersion, { world, afterId }, BATCH);
    const rows = await countedRowsOf(
      registry.db,
      wide.map(({ runId }) => runId),
      methodVersion,
    );
    for (const result of wide) {
      approved += 1;
      const found = rows.get(result.runId);
      const expected = countedRow(result, methodVersion);
      // Through JSON on both sides, as the column `parts` went.
      const isSame = found !== undefined && isDeepStrictEqual(plain(found), plain(expected));
      if (isSame || differences.length >= MOST_DIFFERENCES) continue;
      const named = differing(found, expected);
      differences.push(
        found === undefined
          ? `run ${result.number} has no row`
          : `run ${result.number} differs in ${named.join(', ')}`,
      );
    }
    afterId = wide.at(-1)?.runId;
    if (wide.length < BATCH) break;
  }
  const counted = await countCounted(registry.db, { world, methodVersion });
  if (counted > approved) differences.push(`${counted - approved} rows are of runs that do not count`);
  return { world, methodVersion, approved, differences };
}

function plain(row: object): Record<string, unknown> {
  return JSON.parse(JSON.stringify(row)) as Record<string, unknown>;
}

function differing(found: object | undefined, expected: object): string[] {
  if (found === undefined) return [];
  const [a, b] = [plain(found), plain(expected)];
  return Object.keys(b).filter((key) => !isDeepStrictEqual(a[key], b[key]));
}
