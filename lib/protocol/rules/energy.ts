import { type Said, said } from '@/lib/units/said';
import { isAtMost, worst } from '../grading';
import { oneSidedRule } from '../limitRule';
import { asksFor, notNoted } from '../missing';
import { ascending, limit, probability, share } from '../parameterKinds';
import { defineRule, type Verdict } from '../rule';
import { limitNumber, numberBeside, POINTS, scaleOf, spoken } from '../wording';

const percent = scaleOf('%');
const bare = scaleOf('');

const startCharge = oneSidedRule({
  id: 'start-charge',
  field: 'chargeStart',
  schema: {
    startCharge: ascending(
      {
        passUpToShare: share('Start charge off the study’s, pass up to'),
        cautionUpToShare: share('Start charge off the study’s, caution up to'),
      },
      ['passUpToShare', 'cautionUpToShare'],
    ),
    ...asksFor('chargeStart'),
  },
  group: 'Energy',
  title: 'Start charge at the study’s',
  why: 'Runs that are compared should draw on the same part of the battery.',
  appliesTo: 'Runs of a study.',
  guidance: 'Charge to the study’s start charge before each of its runs.',
  quantity: 'Start charge off the study’s',
  opening: ({ record, study }) => {
    const charge = record.readings.chargeStart;
    const shown = charge === undefined ? '–' : percent.number(charge.value, 0);
    const planned = study === undefined ? '–' : percent.number(study.plannedStartCharge, 0);
    return said`The run started at ${shown} where the study plans ${planned}, off by`;
  },
  unit: '%',
  scale: POINTS,
  decimals: 0,
  direction: 'atMost',
  band: ({ startCharge: limits }) => ({ pass: limits.passUpToShare, caution: limits.cautionUpToShare }),
  value: (facts, parameters) => {
    if (facts.study === undefined) {
      const sentence = 'Not checked: the run does not belong to a study.';
      return { outcome: 'notChecked', numbers: [], sentence };
    }
    const charge = facts.record.readings.chargeStart;
    if (charge === undefined) return notNoted(facts, parameters, 'chargeStart');
    return Math.abs(charge.value - facts.study.plannedStartCharge);
  },
  advice: 'Charge to the planned level before the next run of this study.',
  asks: 'chargeStart',
});

const endCharge = oneSidedRule({
  id: 'end-charge',
  field: 'chargeEnd',
  schema: {
    endCharge: ascending(
      {
        passFromShare: share('Charge at finish, pass from'),
        cautionFromShare: share('Charge at finish, caution from'),
      },
      ['cautionFromShare', 'passFromShare'],
    ),
    ...asksFor('chargeEnd'),
  },
  group: 'Energy',
  title: 'Enough charge left at the finish',
  why: 'Near empty, cars limit power and their displays become less sure. It is also no place to be stranded.',
  appliesTo: 'Runs with a charge at finish.',
  guidance: 'Start with enough charge for the loop and a reserve.',
  quantity: 'Charge at finish',
  unit: '%',
  decimals: 0,
  direction: 'atLeast',
  band: ({ endCharge: limits }) => ({ pass: limits.passFromShare, caution: limits.cautionFromShare }),
  value: (facts, parameters) =>
    facts.record.readings.chargeEnd?.value ?? notNoted(facts, parameters, 'chargeEnd'),
  advice: 'Start with more charge, or choose a shorter loop.',
  asks: 'chargeEnd',
});

const energyResolution = oneSidedRule({
  id: 'energy-resolution',
  field: 'tripEnergy',
  schema: {
    energyResolution: ascending(
      {
        passUpToShare: share('What rounding leaves open of the energy, pass up to'),
        cautionUpToShare: share('What rounding leaves open of the energy, caution up to'),
      },
      ['passUpToShare', 'cautionUpToShare'],
    ),
  },
  group: 'Energy',
  title: 'Energy read finely enough',
  why: 'A coarse display rounds real differences between setups away.',
  appliesTo: 'Every run.',
  guidance:
    'Use the display with the most digits, note the consumption as well as the energy, or drive farther.',
  quantity: 'What the display’s rounding leaves open of the energy',
  unit: '%',
  decimals: 2,
  direction: 'atMost',
  band: ({ energyResolution: limits }) => ({ pass: limits.passUpToShare, caution: limits.cautionUpToShare }),
  value: ({ energy }) => energy.relativeResolutionUncertainty,
  advice: 'Note every digit shown, or choose a longer loop.',
});

function verdictOf(
  energy: { disagreeing?: { pValue: number }; birgeRatio?: number },
  limits: { cautionAboveBirgeRatio: number; cautionBelowPValue: number; failBelowPValue: number },
): Verdict {
  const p = energy.disagreeing?.pValue ?? 1;
  const byTest: Verdict =
    p < limits.failBelowPValue ? 'fail' : p < limits.cautionBelowPValue ? 'caution' : 'pass';
  const isScattered = !isAtMost(energy.birgeRatio ?? 0, limits.cautionAboveBirgeRatio);
  return worst([byTest, isScattered ? 'caution' : 'pass']);
}

const energyReadingsAgree = defineRule({
  id: 'energy-readings-agree',
  field: 'tripEnergy',
  schema: {
    energyAgreement: ascending(
      {
        cautionAboveBirgeRatio: limit('Scatter of the energy readings against their ±, caution above', ''),
        failBelowPValue: probability('Chance of as much scatter by luck, fail below'),
        cautionBelowPValue: probability('Chance of as much scatter by luck, caution below'),
      },
      ['failBelowPValue', 'cautionBelowPValue'],
    ),
  },
  absence: 'notJudged',
  group: 'Energy',
  title: 'Energy readings agree',
  why: 'Energy, consumption, charge and charger tell of one quantity. Where they scatter more than their uncertainties allow, one is wrong.',
  appliesTo: 'Runs with two or more readings of the energy.',
  guidance: 'Note energy and consumption from the display, and charge to the start level on one charger.',
  limits: ({ energyAgreement: limits }) =>
    `Chance of as much scatter by luck < ${limits.cautionBelowPValue}, or scatter > ${limits.cautionAboveBirgeRatio} times their ± caution; chance < ${limits.failBelowPValue} fail; otherwise pass`,
  evaluate({ energy }, { energyAgreement: limits }) {
    const { disagreeing, birgeRatio } = energy;
    if (disagreeing === undefined && birgeRatio === undefined) {
      const sentence = 'Not checked: only one reading of the energy was noted.';
      return { outcome: 'notChecked', numbers: [], sentence };
    }
    const outcome = verdictOf(energy, limits);
    const ratioText =
      birgeRatio === undefined
        ? ''
        : said`The energy readings scatter ${numberBeside(birgeRatio, [limits.cautionAboveBirgeRatio], bare, 1)} times as much as their ± explains; up to ${limitNumber(limits.cautionAboveBirgeRatio, bare)} times is within the protocol.`;
    const oddText =
      disagreeing === undefined
        ? ''
        : said`“${disagreeing.label}” is the odd one out, ${bare.number(Math.abs(disagreeing.standardisedResidual), 1)} times its ± from the rest (chance by luck alone ${chanceWords(disagreeing.pValue)}).`;
    return {
      outcome,
      numbers: [
        ...(birgeRatio === undefined
          ? []
          : [
              {
                name: 'Scatter against their ±',
                value: birgeRatio,
                unit: '' as const,
                limit: limits.cautionAboveBirgeRatio,
              },
            ]),
        ...(disagreeing === undefined
          ? []
          : [
              {
                name: 'Chance of as much by luck',
                value: disagreeing.pValue,
                unit: '' as const,
                limit: limits.cautionBelowPValue,
              },
            ]),
      ],
      ...spoken(
        ratioText,
        oddText,
        outcome === 'pass' ? '' : 'Check that reading against its photo, digit by digit.',
      ),
    };
  },
});

function chanceWords(pValue: number): Said {
  return pValue < 0.0001
    ? said`below ${bare.number(0.0001, 4)}`
    : said`= ${bare.number(pValue, pValue < 0.01 ? 4 : 2)}`;
}

export const ENERGY_RULES = [startCharge, endCharge, energyResolution, energyReadingsAgree] as const;
