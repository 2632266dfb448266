import type { OtherWay, OtherWays, Way } from '@/lib/stats/otherWays/way';
import { type CountedStudyRun, pairShown, type StandingAsked, type StudyStanding } from './standing';

/** A run of a study that counts, with what other ways of working it out need. */
export interface StudyWayRun extends CountedStudyRun {
  /** ln of the consumption as measured, Wh/km; null where it is not known. */
  measuredZ: number | null;
  /** ln of the factors that the steps for wind, and for air density and temperature, brought in; null as above. */
  windLog: number | null;
  airLog: number | null;
  isRetrospective: boolean;
  traffic: string;
}

/**
 * The difference of one setup of a study from its baseline, worked out other ways (method C4): as measured, without a step
 * of the adjustment, without some runs, and with each car left out in turn, each by the study's own model and the kind of
 * interval that it shows. A study's difference is one of same-session pairs, which no level of a loop or a day moves:
 * those ways are not among these.
 */
export function studyWays(
  asked: Pick<StandingAsked, 'plan' | 'unexplainedVariance'> & { runs: readonly StudyWayRun[] },
  setupId: string,
  which: StudyStanding['which'],
): OtherWays {
  const { plan } = asked;
  const runs = asked.runs.filter((run) => run.setupId === setupId || run.setupId === plan.baselineId);
  const by = (own: readonly CountedStudyRun[]) => pairShown({ ...asked, runs: own }, setupId, which);
  const ways: OtherWay[] = [];
  const same: Way[] = [];
  const add = (way: Way, own: readonly CountedStudyRun[] | null) => {
    if (own === null) return;
    const found = by(own);
    ways.push({ way, difference: found?.difference ?? null, interval: found?.interval ?? null });
  };
  const changed = (of: (run: StudyWayRun) => number | null) => {
    const own = runs.flatMap((run) => {
      const z = of(run);
      return z === null ? [] : [{ ...run, z }];
    });
    // Of some runs alone it would be a difference of other runs, not another way.
    return own.length === runs.length ? own : null;
  };
  const without = (way: Way, isLeftOut: (run: StudyWayRun) => boolean) => {
    const own = runs.filter((run) => !isLeftOut(run));
    if (own.length === runs.length) same.push(way);
    else add(way, own);
  };
  add(
    'asMeasured',
    changed(({ measuredZ }) => measuredZ),
  );
  add(
    'withoutWind',
    changed(({ z, windLog }) => (windLog === null ? null : z - windLog)),
  );
  add(
    'withoutAir',
    changed(({ z, airLog }) => (airLog === null ? null : z - airLog)),
  );
  without('withoutRetrospective', ({ isRetrospective }) => isRetrospective);
  without('withoutDenseTraffic', ({ traffic }) => traffic === 'dense');
  return { ways, same, carsLeftOut: carsInTurn(runs, by) };
}

function carsInTurn(
  runs: readonly StudyWayRun[],
  by: (own: readonly CountedStudyRun[]) => { difference: number } | null,
): OtherWays['carsLeftOut'] {
  const cars = [...new Set(runs.map(({ carId }) => carId))];
  const whole = by(runs);
  if (whole === null || cars.length < 2) return null;
  const found = cars.flatMap((car) => by(runs.filter(({ carId }) => carId !== car))?.difference ?? []);
  if (found.length === 0) return null;
  return {
    cars: cars.length,
    answered: found.length,
    sameSign: found.filter((difference) => difference > 0 === whole.difference > 0).length,
    low: Math.min(...found),
    high: Math.max(...found),
  };
}
