import { METHOD_VERSION } from '@/lib/physics/normalise';
import { type ApprovedRunFilter, type ApprovedRunRow, approvedRuns } from '@/lib/store/publicPages';
import type { Registry } from '../registry';
import { modelWords } from './modelWords';

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
  isDemo: boolean;
}

/** Approved runs that match, the latest first. */
export async function readPublicRuns(
  registry: Registry,
  filter: ApprovedRunFilter,
  take?: number,
): Promise<PublicRun[]> {
  const rows = await approvedRuns(registry.db, filter, METHOD_VERSION, take);
  return rows.map(publicRun);
}

function publicRun(row: ApprovedRunRow): PublicRun {
  const revision = row.revisions.find((candidate) => candidate.number === row.approvedRevision);
  const result = revision?.normalisations[0];
  const normalised = result?.isNormalised ? result : undefined;
  return {
    number: row.number,
    date: row.session?.localDate.toISOString().slice(0, 10) ?? '',
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
    isDemo: row.isDemo,
  };
}
