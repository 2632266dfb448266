import { z } from 'zod';
import type { NormalisationFacts } from '../facts';
import { oneSidedRule, rangeRule } from '../limitRule';
import { ascending, limit, share, verdict } from '../parameterKinds';
import { defineRule, type Evaluation } from '../rule';
import { spoken, VERDICT_SENTENCES } from '../wording';

const NOT_COMPUTED: Evaluation = {
  outcome: 'notChecked',
  numbers: [],
  sentence: 'Not checked: the run has not been brought to reference conditions.',
};

function madeOrNotChecked(
  normalisation: NormalisationFacts,
  read: (made: { adjustmentRelative: number; scale: number }) => number,
): number | Evaluation {
  return normalisation?.ok === true ? read(normalisation) : NOT_COMPUTED;
}

const normalised = defineRule({
  id: 'within-reach',
  schema: {
    normalisation: z.object({
      outOfReach: verdict('Run out of the method’s reach'),
    }),
  },
  absence: 'notJudged',
  group: 'Result',
  title: 'Within the method’s reach',
  why: 'Where the method cannot bring a run to reference conditions, the run is kept but not compared.',
  appliesTo: 'Runs that were computed.',
  guidance: 'The reasons say which reading or which part of the car’s data is lacking.',
  limits: ({ normalisation }) =>
    `Brought to reference conditions pass, otherwise ${normalisation.outOfReach}`,
  evaluate({ normalisation }, parameters) {
    if (normalisation === undefined) return NOT_COMPUTED;
    if (normalisation.ok) {
      const sentence = 'The run could be brought to reference conditions.';
      return { outcome: 'pass', numbers: [], sentence };
    }
    const outcome = parameters.normalisation.outOfReach;
    return {
      outcome,
      numbers: [],
      ...spoken(
        'The run could not be brought to reference conditions.',
        ...normalisation.reasons,
        VERDICT_SENTENCES[outcome],
      ),
    };
  },
});

const adjustmentTotal = oneSidedRule({
  id: 'adjustment-total',
  schema: {
    adjustment: ascending(
      {
        passUpToShare: share('Sum of adjustments, pass up to'),
        cautionUpToShare: share('Sum of adjustments, caution up to'),
      },
      ['passUpToShare', 'cautionUpToShare'],
    ),
  },
  group: 'Result',
  title: 'Small adjustments',
  why: 'The larger the step from measured to comparable, the more the model speaks and the less the car.',
  appliesTo: 'Runs brought to reference conditions.',
  guidance: 'Drive near the reference: mild, calm, dry, level, at the exact speed of the class.',
  quantity: 'Sum of adjustments',
  opening: ({ normalisation }) =>
    `Reference conditions ${normalisation?.ok === true && normalisation.adjustmentRelative < 0 ? 'lower' : 'raise'} the measured consumption by`,
  unit: '%',
  decimals: 1,
  direction: 'atMost',
  band: ({ adjustment }) => ({ pass: adjustment.passUpToShare, caution: adjustment.cautionUpToShare }),
  value: ({ normalisation }) =>
    madeOrNotChecked(normalisation, ({ adjustmentRelative }) => Math.abs(adjustmentRelative)),
  advice: 'Repeat nearer to reference conditions; the list of adjustments shows which one is large.',
});

const roadLoadScale = rangeRule({
  id: 'road-load-scale',
  schema: {
    scale: ascending(
      {
        cautionFrom: limit('Scale of the road load, caution from', ''),
        passFrom: limit('Scale of the road load, pass from', ''),
        passTo: limit('Scale of the road load, pass up to', ''),
        cautionTo: limit('Scale of the road load, caution up to', ''),
      },
      ['cautionFrom', 'passFrom', 'passTo', 'cautionTo'],
    ),
  },
  group: 'Result',
  title: 'Road load plausible',
  why: 'The measured road load should be near the one of the car’s data. Far off, a reading or the data is wrong.',
  appliesTo: 'Runs brought to reference conditions.',
  guidance: 'Check the energy and distance, and the mass and drag in the model’s data.',
  quantity: 'Scale of the road load',
  opening: () => 'Measured over expected road load was',
  unit: '',
  decimals: 2,
  band: ({ scale }) => scale,
  value: ({ normalisation }) => madeOrNotChecked(normalisation, ({ scale }) => scale),
  advice: 'Check the readings and their units first, then the model’s mass and drag area.',
});

export const RESULT_RULES = [normalised, adjustmentTotal, roadLoadScale] as const;
