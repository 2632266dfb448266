import type { Screening } from './screening';

/** A screening of any number of runs, cut to what a page lists; what is flagged comes before what is not. */
export type ShownScreening =
  | (Extract<Screening, { by: 'iso5725' }> & {
      /** Of which `cars` are some. */
      carCount: number;
    })
  | (Extract<Screening, { by: 'residuals' }> & {
      /** Of which `runs` are some. */
      runCount: number;
      flaggedCount: number;
    });

/**
 * The flagged (the farthest first where they are too many) and the latest; all in the order they were in.
 *
 * @param most listed, flagged or not
 * @param latest cars on a loop that the page shows anyway
 */
export function shownScreening(
  screening: Screening,
  most: number,
  latest: ReadonlySet<string>,
): ShownScreening {
  if (screening.by === 'iso5725') {
    const { cars } = screening;
    const size = (car: (typeof cars)[number]) => Math.max(Math.abs(car.h?.value ?? 0), car.k?.value ?? 0);
    const isFlagged = (car: (typeof cars)[number]) =>
      [car.h, car.k].some((judged) => judged !== null && judged.verdict !== 'consistent');
    const kept = pick(cars, most, isFlagged, size, (car) => Number(latest.has(car.key)));
    return { ...screening, cars: kept, carCount: cars.length };
  }
  const { runs } = screening;
  const isFlagged = ({ verdict }: (typeof runs)[number]) => verdict !== 'consistent';
  return {
    ...screening,
    runs: pick(
      runs,
      most,
      isFlagged,
      ({ studentised }) => Math.abs(studentised),
      ({ number }) => number,
    ),
    runCount: runs.length,
    flaggedCount: runs.filter(isFlagged).length,
  };
}

/** At most so many flagged by their size, then others by what they rank first by. */
function pick<Row>(
  rows: readonly Row[],
  most: number,
  isFlagged: (row: Row) => boolean,
  size: (row: Row) => number,
  rank: (row: Row) => number,
): Row[] {
  if (rows.length <= most) return [...rows];
  const flagged = rows.filter(isFlagged).sort((a, b) => size(b) - size(a));
  const others = rows.filter((row) => !isFlagged(row)).sort((a, b) => rank(b) - rank(a));
  const kept = new Set([...flagged, ...others].slice(0, most));
  return rows.filter((row) => kept.has(row));
}
