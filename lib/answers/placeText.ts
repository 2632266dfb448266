/** A setup's place in the ranking of its class, as every page says it. */
export interface Place {
  rankLower: number | null;
  rankUpper: number | null;
  /** Who drove it. */
  testers: number;
  held: NamedPlace;
}

/** What of a place hangs on one cluster of testers, by their names. */
export interface NamedPlace {
  /** Those with more than half of the influence: then there is no place. */
  restsOn: readonly string[];
  /** The set that differs most when one cluster is left out. */
  without: { names: readonly string[]; lower: number; upper: number } | null;
}

/** What one tester carries: wholly where nobody else drove it, else mainly. Every page has it in these words. */
export function restsText(isDrivenByOne: boolean): string {
  return `rests ${mostly(isDrivenByOne)} one tester`;
}

const mostly = (isDrivenByOne: boolean) => (isDrivenByOne ? 'on' : 'mainly on');

/** "rank 3–9 of 40; would be rank 2–6 without Mira Holm"; undefined where nothing is to be said of a place. */
export function placeText({ rankLower, rankUpper, testers, held }: Place, of: number): string | undefined {
  if (rankLower === null || rankUpper === null)
    return held.restsOn.length === 0
      ? undefined
      : `no place yet: ${restsText(testers <= held.restsOn.length)} (${clusterName(held.restsOn)})`;
  const rank = rankText(rankLower, rankUpper, of);
  return held.without === null
    ? rank
    : `${rank}; would be ${rankOnly(held.without.lower, held.without.upper)} without ${clusterName(held.without.names)}`;
}

/** A rank is a set: the positions that the intervals leave open. */
function rankText(lower: number, upper: number, of: number): string {
  return `${rankOnly(lower, upper)} of ${of}`;
}

function rankOnly(lower: number, upper: number): string {
  return lower === upper ? `rank ${lower}` : `rank ${lower}–${upper}`;
}

/** Testers who count as one: the first by name, and how many more. */
export function clusterName([first = 'one tester', ...others]: readonly string[]): string {
  if (others.length === 0) return first;
  return `${first} and ${others.length} ${others.length === 1 ? 'other' : 'others'} who ${others.length === 1 ? 'counts' : 'count'} as one with them`;
}

/** Why setups stand in order without a place, and what would give them one; undefined where none does. */
export function placelessText(setups: readonly Place[], of: number): string | undefined {
  const placeless = setups.filter(({ rankLower, held }) => rankLower === null && held.restsOn.length > 0);
  const [first] = placeless;
  if (first === undefined) return undefined;
  const names = new Set(placeless.map(({ held }) => clusterName(held.restsOn)));
  const whom = names.size === 1 ? clusterName(first.held.restsOn) : 'one tester each';
  const rests = `rests ${mostly(placeless.every(({ testers, held }) => testers <= held.restsOn.length))}`;
  const which =
    of === 0
      ? 'No setup has a place yet: they stand in order, but each'
      : `${placeless.length} of these ${placeless.length === 1 ? 'stands in order without a place: it' : 'stand in order without a place: each'}`;
  return `${which} ${rests} ${whom}. Runs of ${placeless.length === 1 ? 'it' : 'them'} by another tester would change that.`;
}
