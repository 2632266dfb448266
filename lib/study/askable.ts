import { factorLabel } from '@/lib/run/factors';
import { type Level, singleFactorChanges } from '@/lib/run/setupLevels';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import type { StudiedSetup } from './oneFactor';

/** What can be asked of a model: two levels of one factor, in any setups that have them or in two of its own. */
export interface Asked {
  factor: string;
  /** The baseline's level, and the one held against it. */
  fromKey: string;
  toKey: string;
  /** Null where any two setups of these levels will do. */
  setups: { baselineId: string; setupId: string } | null;
}

export interface Askable extends Asked {
  /** What a form sends for it. */
  value: string;
  words: string;
}

/** So many pairs a form offers. */
const MOST_OFFERED = 200;

/** Pairs of a model that move one factor alone: of its levels first, then of its setups. */
export function askablePairs(levels: readonly Level[], setups: readonly StudiedSetup[]): Askable[] {
  const ofLevels = [...new Set(levels.map(({ factor }) => factor))].flatMap((factor) => {
    const own = levels
      .filter((level) => level.factor === factor)
      .toSorted((a, b) => Number(b.isBaseline) - Number(a.isBaseline));
    return own.flatMap((from, i) =>
      own.slice(i + 1).map((to): Askable => {
        const asked = { factor, fromKey: from.key, toKey: to.key, setups: null };
        return { ...asked, value: choiceOf(asked), words: levelsWords(factor, from.label, to.label) };
      }),
    );
  });
  const ofSetups = setups.flatMap((baseline, i) =>
    singleFactorChanges(baseline, setups.slice(i + 1)).map(({ setup, factor, from, to }): Askable => {
      const turned = to.isAsDelivered && !from.isAsDelivered;
      const [first, second] = turned ? [setup, baseline] : [baseline, setup];
      const asked = {
        factor,
        fromKey: turned ? to.key : from.key,
        toKey: turned ? from.key : to.key,
        setups: { baselineId: first.id, setupId: second.id },
      };
      return {
        ...asked,
        value: choiceOf(asked),
        words: `${setupAtStart(second.title)} against ${setupInText(first.title)}`,
      };
    }),
  );
  return [...ofLevels, ...ofSetups].slice(0, MOST_OFFERED);
}

function choiceOf({ factor, fromKey, toKey, setups }: Asked): string {
  return setups === null
    ? `levels ${factor} ${fromKey} ${toKey}`
    : `setups ${setups.baselineId} ${setups.setupId}`;
}

/** "Ride height: low against standard". */
export function levelsWords(factor: string, from: string, to: string): string {
  return `${factorLabel(factor)}: ${to} against ${from}`;
}

export interface AskedOf extends Asked {
  modelId: string;
  cruiseClassKey: string;
}

/**
 * How near two requests are: the same, whichever level was named first; alike, where they ask for the same factor of the
 * same model in another class, at other levels or in other setups; or neither.
 */
export function likeness(one: AskedOf, other: AskedOf): 'same' | 'alike' | undefined {
  if (one.modelId !== other.modelId || one.factor !== other.factor) return undefined;
  const isSame =
    one.cruiseClassKey === other.cruiseClassKey &&
    sameTwo([one.fromKey, one.toKey], [other.fromKey, other.toKey]) &&
    (one.setups === null || other.setups === null
      ? one.setups === other.setups
      : sameTwo(idsOf(one.setups), idsOf(other.setups)));
  return isSame ? 'same' : 'alike';
}

type Two = readonly [string, string];

const idsOf = ({ baselineId, setupId }: { baselineId: string; setupId: string }): Two => [
  baselineId,
  setupId,
];

function sameTwo([a, b]: Two, [c, d]: Two): boolean {
  return (a === c && b === d) || (a === d && b === c);
}

/**
 * The setups that a plan of it begins with: those that were asked for, or the two that have the levels and are as
 * delivered in everything else; undefined where the model has no such setups yet.
 */
export function setupsFor(
  asked: Asked,
  setups: readonly StudiedSetup[],
): { baselineId: string; setupId: string } | undefined {
  if (asked.setups !== null) return asked.setups;
  const withLevel = (key: string) =>
    setups.find(({ levels }) =>
      levels.every((level) => (level.factor === asked.factor ? level.key === key : level.isAsDelivered)),
    );
  const [baseline, setup] = [withLevel(asked.fromKey), withLevel(asked.toKey)];
  return baseline === undefined || setup === undefined
    ? undefined
    : { baselineId: baseline.id, setupId: setup.id };
}
