import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from './database';

/** A change of one factor from the car as delivered, as one class's current fit holds it. */
export interface BestChange {
  fitId: string;
  cruiseClassKey: string;
  baselineSlug: string;
  setupSlug: string;
}

/**
 * The best-supported changes of a world: of each model and factor the one of whichever class, the surest word first,
 * then the largest difference over its half-width. Asked from the estimates of the current fits, of which each has at
 * most one such pair: the contrasts are found by their keys, however many a fit has.
 */
export function bestChanges(db: Queryable, world: WorldKey, take: number): Promise<BestChange[]> {
  return db.$queryRaw<BestChange[]>`
    WITH fitted AS (
      SELECT fit."id" AS "fitId", grouped."cruiseClassKey", estimate."setupId", setup."modelId", setup."slug",
        changed."factors", changed."factor"
      FROM "ComparisonGroup" grouped
      JOIN "Fit" fit ON fit."groupId" = grouped."id" AND fit."isCurrent" AND fit."converged"
      JOIN "Estimate" estimate ON estimate."fitId" = fit."id"
      JOIN "Setup" setup ON setup."id" = estimate."setupId"
      CROSS JOIN LATERAL (
        SELECT count(*) AS "factors", min(named."factor") AS "factor"
        FROM "SetupLevel" named JOIN "FactorLevel" level ON level."id" = named."levelId"
        WHERE named."setupId" = setup."id" AND NOT level."isBaseline"
      ) changed
      WHERE grouped."world" = ${world} AND changed."factors" < 2
    ), pair AS (
      SELECT own.*, baseline."setupId" AS "baselineId", baseline."slug" AS "baselineSlug"
      FROM fitted own
      JOIN fitted baseline ON baseline."fitId" = own."fitId" AND baseline."modelId" = own."modelId"
      WHERE own."factors" = 1 AND baseline."factors" = 0
    ), answer AS (
      SELECT pair.*, array_position(ARRAY['settled', 'probable', 'leaning', 'undecided'], contrast."word") AS "step",
        abs(contrast."differenceLog") / greatest(contrast."highLog" - contrast."lowLog", 1e-12) AS "clarity"
      FROM pair CROSS JOIN LATERAL (
        SELECT * FROM "Contrast" stored
        WHERE stored."fitId" = pair."fitId" AND stored."setupAId" = pair."setupId" AND stored."setupBId" = pair."baselineId"
        UNION ALL
        SELECT * FROM "Contrast" stored
        WHERE stored."fitId" = pair."fitId" AND stored."setupAId" = pair."baselineId" AND stored."setupBId" = pair."setupId"
      ) contrast
      WHERE contrast."word" IS NOT NULL AND contrast."differenceLog" IS NOT NULL
    ), best AS (
      SELECT DISTINCT ON ("modelId", "factor") * FROM answer
      ORDER BY "modelId", "factor", "step", "clarity" DESC, "fitId", "setupId"
    )
    SELECT "fitId", "cruiseClassKey", "baselineSlug", "slug" AS "setupSlug" FROM best
    ORDER BY "step", "clarity" DESC, "fitId", "setupId" LIMIT ${take}`;
}

const CHANGED = { level: { isBaseline: false } };
const OF_MODEL = { setupId: true, setup: { select: { modelId: true } } };

/** The setups of a fit that change this factor and nothing else, each with its model's setup as delivered. */
export async function singleChangesOf(
  db: Queryable,
  fitId: string,
  factor: string,
  take: number,
): Promise<{ baselineId: string; setupId: string }[]> {
  const changed = await db.estimate.findMany({
    where: {
      fitId,
      setup: { levels: { some: { factor, ...CHANGED }, none: { factor: { not: factor }, ...CHANGED } } },
    },
    orderBy: [{ runs: 'desc' }, { setupId: 'asc' }],
    take,
    select: OF_MODEL,
  });
  const modelId = { in: changed.map(({ setup }) => setup.modelId) };
  const delivered = await db.estimate.findMany({
    where: { fitId, setup: { modelId, levels: { none: CHANGED } } },
    select: OF_MODEL,
  });
  const ofModel = new Map(delivered.map(({ setup, setupId }) => [setup.modelId, setupId]));
  return changed.flatMap(({ setup, setupId }) => {
    const baselineId = ofModel.get(setup.modelId);
    return baselineId === undefined ? [] : [{ baselineId, setupId }];
  });
}
