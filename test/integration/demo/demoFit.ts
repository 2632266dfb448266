import { readFile, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import type { PrismaClient } from '@/prisma/generated/client';
import type { Json } from '../../lib/reduction/golden/goldenTable';

const pathOf = (methodVersion: string) =>
  resolve(import.meta.dirname, '../../reference/demoFit', `${methodVersion}.json`);

export async function readDemoFit(methodVersion: string): Promise<Json> {
  return JSON.parse(await readFile(pathOf(methodVersion), 'utf8')) as Json;
}

/** Refuses where the version has its table: what it published once stays. */
export async function writeDemoFit(methodVersion: string, fits: Json): Promise<void> {
  await writeFile(pathOf(methodVersion), `${JSON.stringify(fits)}\n`, { flag: 'wx' });
}

/** What is published of the world's current fits: each class with its setups' means and differences by their names. */
export async function publishedFits(prisma: PrismaClient): Promise<Json> {
  const fits = await prisma.fit.findMany({
    where: { isCurrent: true },
    orderBy: { group: { cruiseClassKey: 'asc' } },
    include: {
      group: true,
      estimates: { include: { setup: true } },
      contrasts: { include: { setupA: true, setupB: true } },
    },
  });
  return fits.map(({ group, runCount, summary, estimates, contrasts }) => {
    const { components, residualDf } = summary as { components: Json; residualDf: number };
    return {
      cruiseClass: group.cruiseClassKey,
      runCount,
      components,
      residualDf,
      estimates: byName(
        estimates.map(({ setup, runs, logMean, logSe, dof, rawMeanWhPerKm, lowWhPerKm, highWhPerKm }) => [
          setup.slug,
          { runs, logMean, logSe, dof, rawMeanWhPerKm, lowWhPerKm, highWhPerKm },
        ]),
      ),
      differences: byName(
        contrasts.map(({ setupA, setupB, differenceLog, logSe, dof, lowLog, highLog, sharedULog }) => [
          `${setupA.slug}|${setupB.slug}`,
          { differenceLog, logSe, dof, lowLog, highLog, sharedULog },
        ]),
      ),
    };
  });
}

function byName(entries: [string, Json][]): Json {
  return Object.fromEntries(entries.sort(([a], [b]) => a.localeCompare(b)));
}
