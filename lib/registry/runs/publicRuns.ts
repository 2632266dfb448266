import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { type ApprovedRunFilter, type ApprovedRunRow, approvedRuns } from '@/lib/store/publicPages';
import { labelsInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';

/** An approved run as lists and figures of the public pages show it. */
export interface PublicRun {
  number: number;
  /** yyyy-mm-dd at the loop. */
  date: string;
  classKey: string;
  classLabel: string;
  setupId: string;
  setupTitle: string;
  setupSlug: string;
  model: string;
  modelSlug: string;
  carId: string;
  sessionId: string;
  testerName: string;
  testerSlug: string;
  loopId: string;
  loopName: string;
  loopSlug: string;
  measuredWhPerKm: number | null;
  /** Null where the conditions lay outside the method's reach. */
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
  /** Relative standard uncertainty of the part that is the run's own. */
  uRunRelative: number | null;
  windFromDeg: number | null;
  windSpeedMps: number | null;
  world: WorldKey;
}

/** Approved runs that match, the latest first. */
export async function readPublicRuns(
  registry: Registry,
  filter: ApprovedRunFilter,
  take?: number,
): Promise<PublicRun[]> {
  const [rows, labelOf] = await Promise.all([
    approvedRuns(registry.db, filter, take),
    labelsInEffect(registry.db),
  ]);
  return rows.map((row) => publicRun(row, labelOf(worldKey(row.world))));
}

/** With the number under the version in effect, or the newest while that is not computed yet. */
function publicRun(row: ApprovedRunRow, inEffect: string): PublicRun {
  const revision = row.revisions.find((candidate) => candidate.number === row.approvedRevision);
  const results = revision?.normalisations ?? [];
  const result = results.find(({ methodVersion }) => methodVersion === inEffect) ?? results[0];
  const normalised = result?.isNormalised ? result : undefined;
  return {
    number: row.number,
    date: dateText(row.session?.localDate),
    classKey: row.cruiseClass?.key ?? '',
    classLabel: row.cruiseClass?.label ?? '',
    setupId: row.setupId ?? '',
    setupTitle: row.setup?.title ?? '',
    setupSlug: row.setup?.slug ?? '',
    model: row.setup ? modelWords(row.setup.model) : '',
    modelSlug: row.setup?.model.slug ?? '',
    carId: row.carId ?? '',
    sessionId: row.sessionId ?? '',
    testerName: row.tester.displayName,
    testerSlug: row.tester.slug,
    loopId: row.loop?.id ?? '',
    loopName: row.loop?.name ?? '',
    loopSlug: row.loop?.slug ?? '',
    measuredWhPerKm: result?.measuredWhPerKm ?? null,
    normalisedWhPerKm: normalised?.normalisedWhPerKm ?? null,
    uWhPerKm: normalised?.uWhPerKm ?? null,
    uRunRelative: normalised?.uRunRelative ?? null,
    windFromDeg: revision?.conditions?.windFromDeg ?? null,
    windSpeedMps: revision?.conditions?.windSpeedMps ?? null,
    world: worldKey(row.world),
  };
}
