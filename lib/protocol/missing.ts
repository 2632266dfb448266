import type { RunQuantity } from '@/lib/run/fields/table';
import type { RunFacts } from './facts';
import type { MissingItem, ProtocolParameters } from './parameters';
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
export const ASKED_ITEMS: Readonly<Record<MissingItem, Item>> = {
  trueSpeed: { words: 'true cruise speed', isMissing: lacks('trueSpeed') },
  withinBandShare: {
    words: 'share of cruise time within the speed band',
    isMissing: lacks('withinBandShare'),
  },
  tripDistance: { words: 'trip distance', isMissing: lacks('tripDistance') },
  coldPressures: {
    words: 'cold tyre pressures with the placard’s',
    isMissing: (facts) =>
      pressurePairs(facts).some((pair) => pair.notedPa === undefined || pair.placardPa === undefined),
  },
  warmUp: { words: 'warm-up', isMissing: lacks('warmUpDistance') },
  load: { words: 'people and load', isMissing: lacks('loadMass') },
  chargeStart: { words: 'charge at start', isMissing: lacks('chargeStart') },
  chargeEnd: { words: 'charge at finish', isMissing: lacks('chargeEnd') },
  airTemperature: { words: 'air temperature', isMissing: lacks('airTemperature') },
  wind: { words: 'wind', isMissing: lacks('windSpeed') },
  stationDistance: {
    words: 'distance of the weather station',
    isMissing: (facts) =>
      facts.record.conditionsSource === 'stationReport' && lacks('stationDistance')(facts),
  },
  startDisplayPhoto: { words: 'photo of the display at start', isMissing: lacksPhoto('startDisplay') },
  finishDisplayPhoto: { words: 'photo of the display at finish', isMissing: lacksPhoto('finishDisplay') },
};

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
export function notNoted(
  facts: RunFacts,
  parameters: ProtocolParameters,
  item: MissingItem,
  advice = '',
): Evaluation {
  const { isRetrospective } = facts.record;
  const outcome = isRetrospective ? parameters.retrospective.whenMissing : parameters.whenMissing[item];
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
export function absenceLimits(parameters: ProtocolParameters, item: MissingItem): string {
  const outcome = parameters.whenMissing[item];
  return outcome === 'notChecked' ? 'not checked if missing' : `${outcome} if missing`;
}
