/**
 * Groups of setups none of which can be told from another: the maximal cliques of the "not separable" graph.
 * Bron C., Kerbosch J. (1973), CACM 16, 575, with the pivot of Tomita E. et al. (2006), TCS 363, 28.
 */

/** Above this many groups the letters stop helping a reader and the work may explode. */
const MOST_GROUPS = 200;

/**
 * Maximal groups in order of their first member.
 *
 * @param count number of items, already in the order of their estimates
 * @param inseparable whether items i and j (i ≠ j) cannot be told apart
 * @returns groups of item indices, or null when there are more than 200
 */
export function inseparableGroups(
  count: number,
  inseparable: (i: number, j: number) => boolean,
): number[][] | null {
  const near = Array.from(
    { length: count },
    (_, i) => new Set(Array.from({ length: count }, (_, j) => j).filter((j) => j !== i && inseparable(i, j))),
  );
  const cliques: number[][] = [];
  const expand = (chosen: number[], candidates: Set<number>, done: Set<number>): boolean => {
    if (candidates.size === 0 && done.size === 0) {
      cliques.push([...chosen].sort((a, b) => a - b));
      return cliques.length <= MOST_GROUPS;
    }
    let pivot = -1;
    let most = -1;
    for (const item of [...candidates, ...done]) {
      const reach = [...candidates].filter((c) => near[item]?.has(c)).length;
      if (reach > most) {
        most = reach;
        pivot = item;
      }
    }
    for (const item of [...candidates].filter((c) => !near[pivot]?.has(c))) {
      const own = near[item] as Set<number>;
      const within = (set: Set<number>) => new Set([...set].filter((x) => own.has(x)));
      if (!expand([...chosen, item], within(candidates), within(done))) return false;
      candidates.delete(item);
      done.add(item);
    }
    return true;
  };
  const complete = expand([], new Set(Array.from({ length: count }, (_, i) => i)), new Set());
  if (!complete) return null;
  return cliques.sort(
    (x, y) => (x[0] as number) - (y[0] as number) || (x.at(-1) as number) - (y.at(-1) as number),
  );
}

/** Letters for group numbers: a … z, aa, ab … */
export function groupLetter(index: number): string {
  let letters = '';
  for (let rest = index + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(97 + ((rest - 1) % 26)) + letters;
  }
  return letters;
}
