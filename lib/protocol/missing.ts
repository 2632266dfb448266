import { z } from 'zod';
import type { RunQuantity } from '@/lib/run/fields/table';
import type { RunFacts } from './facts';
import { type Absence, absence, markedAbsence } from './parameterKinds';
import type { Evaluation, Outcome } from './rule';
import { join } from './wording';

const lacks =
  (quantity: RunQuantity) =>
  (facts: RunFacts): boolean =>
    facts.record.readings[quantity] === undefined;

const lacksPhoto =
  (kind: string) =>
  (facts: RunFacts): boolean =>
    !facts.evidenceKinds.includes(kind);

interface Item {
  /** In the middle of a sentence. */
  words: string;
  /** Its absence, as a version's limits name it. */
  label: string;
  isMissing(facts: RunFacts): boolean;
}

/** The front and rear pressures, as noted and as on the placard; the car's placard stands in for the form's. */
export function pressurePairs(facts: RunFacts) {
  const { readings } = facts.record;
  return [
    {
      axle: 'front',
      notedPa: readings.pressureFront?.value,
      placardPa: readings.placardFront?.value ?? facts.car.placardFrontPa,
    },
    {
      axle: 'rear',
      notedPa: readings.pressureRear?.value,
      placardPa: readings.placardRear?.value ?? facts.car.placardRearPa,
    },
  ] as const;
}

/** Everything that the protocol asks a tester to note or to photograph, and when it is not there. */
export const ASKED_ITEMS = {
  trueSpeed: {
    words: 'true cruise speed',
    label: 'True cruise speed not noted',
    isMissing: lacks('trueSpeed'),
  },
  withinBandShare: {
    words: 'share of cruise time within the speed band',
    label: 'Share within the speed band not known',
    isMissing: lacks('withinBandShare'),
  },
  tripDistance: {
    words: 'trip distance',
    label: 'Trip distance not noted',
    isMissing: lacks('tripDistance'),
  },
  coldPressures: {
    words: 'cold tyre pressures with the placard’s',
    label: 'Cold tyre pressures or placard not noted',
    isMissing: (facts) =>
      pressurePairs(facts).some((pair) => pair.notedPa === undefined || pair.placardPa === undefined),
  },
  warmUp: { words: 'warm-up', label: 'Warm-up not noted', isMissing: lacks('warmUpDistance') },
  load: { words: 'people and load', label: 'People and load not noted', isMissing: lacks('loadMass') },
  chargeStart: {
    words: 'charge at start',
    label: 'Charge at start not noted',
    isMissing: lacks('chargeStart'),
  },
  chargeEnd: {
    words: 'charge at finish',
    label: 'Charge at finish not noted',
    isMissing: lacks('chargeEnd'),
  },
  airTemperature: {
    words: 'air temperature',
    label: 'Air temperature not noted',
    isMissing: lacks('airTemperature'),
  },
  wind: { words: 'wind', label: 'Wind not noted', isMissing: lacks('windSpeed') },
  stationDistance: {
    words: 'distance of the weather station',
    label: 'Distance of the weather station not noted',
    isMissing: (facts) =>
      facts.record.conditionsSource === 'stationReport' && lacks('stationDistance')(facts),
  },
  startDisplayPhoto: {
    words: 'photo of the display at start',
    label: 'No photo of the display at start',
    isMissing: lacksPhoto('startDisplay'),
  },
  finishDisplayPhoto: {
    words: 'photo of the display at finish',
    label: 'No photo of the display at finish',
    isMissing: lacksPhoto('finishDisplay'),
  },
} satisfies Readonly<Record<string, Item>>;

export type MissingItem = keyof typeof ASKED_ITEMS;

/** The limits of a rule that asks for the item: what its absence counts as, for either kind of run. */
export interface AskingLimits<Name extends MissingItem> {
  whenMissing: Readonly<Record<Name, Absence>>;
  retrospective: { whenMissing: 'caution' | 'fail' };
}

export const RETROSPECTIVE_ABSENCE = {
  whenMissing: markedAbsence('Anything missing from a run recorded afterwards'),
};

/** The schema of those limits, for the rule to carry beside its own. */
export function asksFor<Name extends MissingItem>(item: Name) {
  const leaf = { [item]: absence(ASKED_ITEMS[item].label) } as Record<Name, ReturnType<typeof absence>>;
  return { whenMissing: z.object(leaf), retrospective: z.object(RETROSPECTIVE_ABSENCE) };
}

/** The words of all items that this run lacks, in a fixed order. */
export function missingItems(facts: RunFacts): string[] {
  return Object.values(ASKED_ITEMS)
    .filter((item) => item.isMissing(facts))
    .map((item) => item.words);
}

const ABSENCE_SENTENCES: Readonly<Record<Outcome, string>> = {
  notChecked: 'The rule could not be checked.',
  pass: 'The rule could not be checked.',
  caution: 'The protocol accepts this with a caution.',
  fail: 'The protocol asks for it.',
};

/**
 * What a rule says where the item that it judges is not there.
 * A run recorded afterwards cannot fetch its evidence any more: the version's one answer for such runs holds
 * for every item, and the sentence says so.
 */
export function notNoted<Name extends MissingItem>(
  facts: RunFacts,
  limits: AskingLimits<Name>,
  item: Name,
  advice = '',
): Evaluation {
  const { isRetrospective } = facts.record;
  const outcome: Outcome = isRetrospective ? limits.retrospective.whenMissing : limits.whenMissing[item];
  const because = isRetrospective ? 'The run was recorded afterwards.' : '';
  return {
    outcome,
    numbers: [],
    sentence: join(
      `Missing: ${ASKED_ITEMS[item].words}.`,
      because,
      ABSENCE_SENTENCES[outcome],
      isRetrospective ? '' : advice,
    ),
  };
}

/** How an absence is taken, for the protocol page. */
export function absenceWords(
  limits: { readonly whenMissing?: Readonly<Record<string, unknown>> },
  item: MissingItem,
): string {
  const outcome = limits.whenMissing?.[item];
  return outcome === 'notChecked' ? 'not checked if missing' : `${outcome} if missing`;
}
