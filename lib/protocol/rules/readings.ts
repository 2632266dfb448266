import { z } from 'zod';
import type { CheckNumbers, ConsistencyCheck } from '@/lib/capture/consistency';
import { type CheckId, checkRules } from '@/lib/capture/consistencyRules';
import type { UnitCode } from '@/lib/units/unit';
import { worst } from '../grading';
import { verdict } from '../parameterKinds';
import { defineRule, type FindingNumber, type RuleWords, type Verdict } from '../rule';
import { capitalise, scaleOf, spoken } from '../wording';

const SHOWN_UNITS: Readonly<Record<CheckNumbers['quantity'], UnitCode>> = {
  consumptionWhPerKm: 'kWh/100km',
  speedMps: 'km/h',
  energyWh: 'kWh',
  distanceM: 'km',
  durationS: 'min',
  charge: '%',
};

interface AgreementRule<Checks extends DisagreementSchema> extends RuleWords {
  /** The cross-checks that it looks at, with the schema of what a failed one counts as. */
  checks: Checks;
  advice: string;
}

type DisagreementSchema = Readonly<Partial<Record<CheckId, ReturnType<typeof verdict>>>>;

/** Of the rule's own checks only: the compiler cannot follow the schema that far. */
type Verdicts = Readonly<Record<CheckId, Verdict>>;

/** A rule over cross-checks of readings; what each failed check counts as is the version's data. */
function agreementRule<const Checks extends DisagreementSchema>({
  checks: leaves,
  advice,
  ...words
}: AgreementRule<Checks>) {
  const ids = Object.keys(leaves) as CheckId[];
  return defineRule({
    ...words,
    schema: { disagreement: z.object(leaves) },
    absence: 'notJudged',
    limits({ disagreement }) {
      const verdicts = disagreement as Verdicts;
      return `${ids
        .map((id) => {
          const check = definitionOf(id);
          const relation = check.relation === 'equal' ? 'against' : 'not above';
          return `${capitalise(check.derivedWords)} ${relation} ${check.shownWords}: ${verdicts[id]} where they cannot agree`;
        })
        .join('; ')}; otherwise pass`;
    },
    evaluate({ checks }, { disagreement }) {
      const verdicts = disagreement as Verdicts;
      const made = checks.filter((check) => ids.includes(check.id) && check.outcome !== 'notChecked');
      const failed = made.filter((check) => check.outcome === 'inconsistent');
      return {
        outcome: made.length === 0 ? 'notChecked' : worst(['pass', ...failed.map(({ id }) => verdicts[id])]),
        numbers: made.flatMap(numbersOf),
        ...sayingOf(made, failed, advice),
      };
    },
  });
}

function sayingOf(made: readonly ConsistencyCheck[], failed: readonly ConsistencyCheck[], advice: string) {
  const sayings = (checks: readonly ConsistencyCheck[]) =>
    checks.map((check) => check.said ?? check.sentence);
  if (made.length === 0) return spoken('Not checked: the readings that it compares were not noted.');
  return failed.length > 0 ? spoken(...sayings(failed), advice) : spoken(...sayings(made));
}

function numbersOf(check: ConsistencyCheck): FindingNumber[] {
  if (check.numbers === null) return [];
  const { quantity, derived, shown } = check.numbers;
  const { derivedWords, shownWords } = definitionOf(check.id);
  const unit = SHOWN_UNITS[quantity];
  const { toShown } = scaleOf(unit);
  return [
    { name: capitalise(derivedWords), value: toShown(derived.value), unit },
    { name: capitalise(shownWords), value: toShown(shown.value), unit },
  ];
}

function definitionOf(id: CheckId) {
  const definition = checkRules.find((rule) => rule.id === id);
  if (definition === undefined) throw new RangeError(`no cross-check ${id}`);
  return definition;
}

export const READING_RULES = [
  agreementRule({
    id: 'finish-readings-agree',
    field: 'tripEfficiency',
    group: 'Readings',
    title: 'Readings at the finish agree',
    why: 'Distance, time and energy fix the mean speed and the consumption. Where the display says otherwise, a digit is wrong.',
    appliesTo: 'Runs with a shown consumption or a shown mean speed.',
    guidance: 'Note all numbers from one screen, parked, and photograph it.',
    checks: {
      efficiency: verdict('Energy ÷ distance against the shown consumption'),
      meanSpeed: verdict('Distance ÷ time against the shown mean speed'),
    },
    advice: 'Read the finish photo again, digit by digit.',
  }),
  agreementRule({
    id: 'turnaround-readings-agree',
    field: 'outboundDistance',
    group: 'Readings',
    title: 'Readings at the turnaround agree',
    why: 'The first leg cannot hold more distance, time or energy than the whole run.',
    appliesTo: 'Runs with readings at the turnaround.',
    guidance: 'Note the turnaround readings since the start, not since the last stop.',
    checks: {
      outboundEfficiency: verdict('Energy ÷ distance at the turnaround against the consumption shown there'),
      turnaroundEnergy: verdict('Energy at turnaround not above the total'),
      turnaroundDistance: verdict('Distance at turnaround not above the total'),
      turnaroundTime: verdict('Time at turnaround not above the total'),
    },
    advice: 'Check the turnaround readings, and whether they were counted since the start.',
  }),
  agreementRule({
    id: 'charge-readings-agree',
    field: 'chargeEnd',
    group: 'Readings',
    title: 'Charge and energy agree',
    why: 'The charge falls over a run, and by about as much as the energy used.',
    appliesTo: 'Runs with a charge at start and finish.',
    guidance: 'Note the charge at start and finish in whole points, or finer where shown.',
    checks: {
      chargeDrop: verdict('Charge used × usable capacity against the energy'),
      finishChargeBelowStart: verdict('Charge at finish not above that at start'),
      turnaroundChargeBelowStart: verdict('Charge at turnaround not above that at start'),
      finishChargeBelowTurnaround: verdict('Charge at finish not above that at turnaround'),
    },
    advice: 'Check the charge readings and the car’s usable capacity.',
  }),
  agreementRule({
    id: 'charger-reading-agrees',
    field: 'chargerEnergy',
    group: 'Readings',
    title: 'Charger and car agree',
    why: 'What the charger gave, less a usual loss, is what the run used.',
    appliesTo: 'Runs charged back to the start charge.',
    guidance: 'Charge back to the start charge at once, with the cabin’s heating and cooling off.',
    checks: { chargerEnergy: verdict('Charger energy against the energy') },
    advice:
      'Check that the charge came back to the start level, and which energy the charger’s receipt shows.',
  }),
  agreementRule({
    id: 'odometer-agrees',
    field: 'odometerEnd',
    group: 'Readings',
    title: 'Odometer and trip agree',
    why: 'Two counters of one car turn with the same wheels.',
    appliesTo: 'Runs with the odometer at start and finish.',
    guidance: 'Note the odometer with the trip, at start and finish.',
    checks: { odometer: verdict('Odometer difference against the trip distance') },
    advice: 'Check both odometer readings and that the trip was reset at the start.',
  }),
  agreementRule({
    id: 'mean-below-cruise',
    field: 'tripDuration',
    group: 'Readings',
    title: 'Mean speed not above the cruise speed',
    why: 'With ramps and a turnaround, the mean is always below the speed held on the open legs.',
    appliesTo: 'Runs with a time or a shown mean speed.',
    guidance: 'Note the time from start to finish, with the turnaround.',
    checks: {
      meanBelowCruise: verdict('Distance ÷ time not above the cruise speed'),
      shownMeanBelowCruise: verdict('Shown mean speed not above the cruise speed'),
    },
    advice: 'Check the time, the distance and the cruise speed: one of them is wrong.',
  }),
] as const;
