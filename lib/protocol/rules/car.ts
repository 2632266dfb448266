import { z } from 'zod';
import type { ChoiceValue } from '@/lib/run/fields/table';
import { type Said, said } from '@/lib/units/said';
import { type Band, gradeAtMost, worst } from '../grading';
import { oneSidedRule } from '../limitRule';
import { ASKED_ITEMS, absenceWords, asksFor, notNoted, pressurePairs } from '../missing';
import { ascending, limit, share, verdict } from '../parameterKinds';
import { defineRule, type FindingNumber, type Verdict } from '../rule';
import {
  capitalise,
  limitNumber,
  numberBeside,
  scaleOf,
  spoken,
  VERDICT_SENTENCES,
  writeLimit,
} from '../wording';

const percent = scaleOf('%');
const bar = scaleOf('bar');
const kg = scaleOf('kg');
const kW = scaleOf('kW');

const bandOfPressure = (limits: { passUpToShare: number; cautionUpToShare: number }): Band => ({
  pass: limits.passUpToShare,
  caution: limits.cautionUpToShare,
});

/** Each axle that can be judged is; one that cannot keeps its own outcome, and the graver of the two holds. */
const coldTyrePressures = defineRule({
  id: 'cold-tyre-pressures',
  field: 'pressureFront',
  schema: {
    tyrePressure: ascending(
      {
        passUpToShare: share('Cold pressure off the placard, pass up to'),
        cautionUpToShare: share('Cold pressure off the placard, caution up to'),
      },
      ['passUpToShare', 'cautionUpToShare'],
    ),
    ...asksFor('coldPressures'),
  },
  absence: 'notJudged',
  group: 'Car',
  title: 'Cold tyre pressures at the placard',
  why: 'Rolling resistance follows pressure. Pressures away from the placard are also a matter of safety.',
  appliesTo: 'Runs with cold pressures and the placard’s.',
  guidance: 'Set the pressures to the placard, cold, before the warm-up, and note both axles.',
  limits: (parameters) => {
    const { pass, caution } = bandOfPressure(parameters.tyrePressure);
    return `Cold pressure off the placard ≤ ${writeLimit(pass, percent)} pass, ≤ ${writeLimit(caution, percent)} caution; ${absenceWords(parameters, 'coldPressures')}`;
  },
  evaluate(facts, parameters) {
    const band = bandOfPressure(parameters.tyrePressure);
    const numbers: FindingNumber[] = [];
    const phrases: Said[] = [];
    const verdicts: Verdict[] = [];
    for (const { axle, notedPa, placardPa } of pressurePairs(facts)) {
      if (notedPa === undefined || placardPa === undefined) continue;
      const deviation = notedPa / placardPa - 1;
      const size = numberBeside(Math.abs(deviation), [band.pass, band.caution], percent, 1);
      verdicts.push(gradeAtMost(Math.abs(deviation), band));
      numbers.push({
        name: `Cold pressure off the placard, ${axle}`,
        value: percent.toShown(deviation),
        unit: '%',
        limit: percent.toShown(band.pass),
      });
      phrases.push(
        said`${phrases.length === 0 ? capitalise(axle) : `, ${axle}`} ${bar.number(notedPa, 2)} for ${bar.number(placardPa, 2)} (${size} ${deviation < 0 ? 'below' : 'above'})`,
      );
    }
    const [first, ...rest] = verdicts;
    const absent = ASKED_ITEMS.coldPressures.isMissing(facts)
      ? notNoted(facts, parameters, 'coldPressures', 'Note both axles and the placard.')
      : undefined;
    if (first === undefined) {
      return absent ?? notNoted(facts, parameters, 'coldPressures');
    }
    const judged = worst([first, ...rest]);
    const accepted =
      judged === 'pass'
        ? ''
        : said` and up to ${limitNumber(band.caution, percent)} is accepted with a caution`;
    return {
      outcome: absent === undefined ? judged : worst([judged, absent.outcome]),
      numbers,
      ...spoken(
        said`${phrases.flat()}; up to ${limitNumber(band.pass, percent)} off the placard is within the protocol${accepted}.`,
        judged === 'pass' ? '' : 'Set the pressures to the placard, cold.',
        absent?.sentence ?? '',
      ),
    };
  },
});

const warmUp = oneSidedRule({
  id: 'warm-up',
  field: 'warmUpDistance',
  schema: {
    warmUp: ascending(
      {
        passFromM: limit('Warm-up, pass from', 'km'),
        cautionFromM: limit('Warm-up, caution from', 'km'),
      },
      ['cautionFromM', 'passFromM'],
    ),
    ...asksFor('warmUp'),
  },
  group: 'Car',
  title: 'Warmed up before the start',
  why: 'Cold tyres and a cold drivetrain roll harder for the first kilometres, and no model here corrects for it.',
  appliesTo: 'Runs with a noted warm-up.',
  guidance: 'Drive at about the cruise speed to the start, and start without a long stop.',
  quantity: 'Warm-up',
  unit: 'km',
  decimals: 0,
  direction: 'atLeast',
  band: ({ warmUp: limits }) => ({ pass: limits.passFromM, caution: limits.cautionFromM }),
  value: (facts, parameters) =>
    facts.record.readings.warmUpDistance?.value ??
    notNoted(facts, parameters, 'warmUp', 'Note the distance driven before the start.'),
  advice: 'Drive farther before the start next time.',
  asks: 'warmUp',
});

const CLIMATE_WORDS: Readonly<Record<ChoiceValue<'climate'>, string>> = {
  off: 'off',
  mild: 'on with little to do',
  cooling: 'cooling',
  heating: 'heating',
};

/** The setting alone is enough where the climate does little; where it works hard, the assumed power is a wide guess. */
const climateNoted = defineRule({
  id: 'climate-noted',
  field: 'climate',
  schema: {
    climate: z.object({
      off: verdict('Climate off, auxiliary power not read'),
      mild: verdict('Climate mild, auxiliary power not read'),
      cooling: verdict('Cooling, auxiliary power not read'),
      heating: verdict('Heating, auxiliary power not read'),
    }),
  },
  absence: 'notJudged',
  group: 'Car',
  title: 'Climate setting noted',
  why: 'Heating or cooling can take several kilowatts, which the result has to be freed from.',
  appliesTo: 'Every run.',
  guidance:
    'Switch the climate off where it is safe and comfortable; otherwise note the mean auxiliary power.',
  limits: ({ climate }) =>
    `Auxiliary power noted: pass. Without it: ${(Object.keys(CLIMATE_WORDS) as ChoiceValue<'climate'>[])
      .map((setting) => `climate ${CLIMATE_WORDS[setting]} ${climate[setting]}`)
      .join(', ')}`,
  evaluate({ record }, { climate }) {
    const power = record.readings.auxiliaryPower;
    const setting = `The climate was ${CLIMATE_WORDS[record.climate]}`;
    if (power !== undefined) {
      return {
        outcome: 'pass',
        numbers: [{ name: 'Auxiliary power', value: kW.toShown(power.value), unit: 'kW' }],
        ...spoken(said`${setting}, with an auxiliary power of ${kW.number(power.value, 2)}.`),
      };
    }
    const outcome = climate[record.climate];
    return {
      outcome,
      numbers: [],
      ...spoken(
        `${setting}; its power was not read, so a value for the setting is assumed with its uncertainty.`,
        VERDICT_SENTENCES[outcome],
        outcome === 'pass' ? '' : 'Note the mean auxiliary power if the car shows it.',
      ),
    };
  },
});

const loadNoted = defineRule({
  id: 'load-noted',
  field: 'loadMass',
  schema: asksFor('load'),
  absence: 'notJudged',
  group: 'Car',
  title: 'People and load noted',
  why: 'Mass sets the rolling resistance and the energy of every climb.',
  appliesTo: 'Every run.',
  guidance: 'Add up people, luggage and anything fitted since the car was registered.',
  limits: (parameters) => `People and load noted pass; ${absenceWords(parameters, 'load')}`,
  evaluate(facts, parameters) {
    const load = facts.record.readings.loadMass;
    if (load === undefined) {
      return notNoted(facts, parameters, 'load', 'Add up people and luggage and note the sum.');
    }
    return {
      outcome: 'pass',
      numbers: [{ name: 'People and load', value: kg.toShown(load.value), unit: 'kg' }],
      ...spoken(said`People and load were noted: ${kg.number(load.value, 0)}.`),
    };
  },
});

export const CAR_RULES = [coldTyrePressures, warmUp, climateNoted, loadNoted] as const;
