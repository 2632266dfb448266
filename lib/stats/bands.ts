/** Places in an order, both included. */
export interface Band {
  from: number;
  to: number;
}

/**
 * The longest stretches of an ordered list in which no two can be told apart, each of two places at least. They may
 * overlap: to be told apart is not transitive, so A may be as B and B as C while A and C differ. None lies in another.
 *
 * @param isTogether whether the two at these places cannot be told apart; asked with the lower place first
 */
export function bandsOf(count: number, isTogether: (a: number, b: number) => boolean): Band[] {
  const bands: Band[] = [];
  let reach = 0;
  for (let from = 0; from < count; from++) {
    let to = from;
    while (to + 1 < count && isTogetherWithAll(from, to, to + 1, isTogether)) to++;
    // One that ends no farther than the one before it lies within that.
    if (to > from && to > reach) bands.push({ from, to });
    reach = Math.max(reach, to);
  }
  return bands;
}

function isTogetherWithAll(
  from: number,
  to: number,
  next: number,
  isTogether: (a: number, b: number) => boolean,
): boolean {
  for (let place = from; place <= to; place++) if (!isTogether(place, next)) return false;
  return true;
}

/** For each band the first of the upright lines side by side in which it does not touch another; bands in order. */
export function lanesOf(bands: readonly Band[]): number[] {
  const ends: number[] = [];
  return bands.map(({ from, to }) => {
    const free = ends.findIndex((end) => end < from);
    const lane = free < 0 ? ends.length : free;
    ends[lane] = to;
    return lane;
  });
}
