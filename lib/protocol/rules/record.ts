import { z } from 'zod';
import { said } from '@/lib/units/said';
import { isAtMost } from '../grading';
import { millisecondsOf } from '../instant';
import {
  ASKED_ITEMS,
  absenceWords,
  asksFor,
  type MissingItem,
  missingItems,
  notNoted,
  RETROSPECTIVE_ABSENCE,
} from '../missing';
import { limit, verdict } from '../parameterKinds';
import { defineRule, type RuleWords } from '../rule';
import { join, limitNumber, numberBeside, scaleOf, spoken, VERDICT_SENTENCES, writeLimit } from '../wording';

const minutes = scaleOf('min');

type DisplayPhoto = Extract<MissingItem, 'startDisplayPhoto' | 'finishDisplayPhoto'>;

function photoRule(item: DisplayPhoto, found: string, words: RuleWords) {
  return defineRule({
    ...words,
    schema: asksFor(item),
    absence: 'notJudged',
    limits: (parameters) => `Photo attached pass; ${absenceWords(parameters, item)}`,
    evaluate(facts, parameters) {
      if (ASKED_ITEMS[item].isMissing(facts)) {
        return notNoted(facts, parameters, item, 'Attach the photo if you took one.');
      }
      return { outcome: 'pass', numbers: [], sentence: found };
    },
  });
}

const startDisplayPhoto = photoRule('startDisplayPhoto', 'A photo of the display at start is attached.', {
  id: 'start-display-photo',
  field: 'evidence.startDisplay',
  group: 'Record',
  title: 'Photo of the display at start',
  why: 'It shows that the trip was reset, and at which charge the run began.',
  appliesTo: 'Every run.',
  guidance: 'Parked, photograph the display with the trip at zero and the charge readable.',
});

const finishDisplayPhoto = photoRule('finishDisplayPhoto', 'A photo of the display at finish is attached.', {
  id: 'finish-display-photo',
  field: 'evidence.finishDisplay',
  group: 'Record',
  title: 'Photo of the display at finish',
  why: 'It lets another person read the numbers that the result is made of.',
  appliesTo: 'Every run.',
  guidance: 'Parked, photograph the display with distance, energy, time and charge readable.',
});

const retrospective = defineRule({
  id: 'recorded-as-driven',
  field: 'isRetrospective',
  schema: {
    retrospective: z.object({ outcome: verdict('Run recorded afterwards'), ...RETROSPECTIVE_ABSENCE }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Recorded as it was driven',
  why: 'What was not noted on the day cannot be fetched later. Such runs are welcome, and marked.',
  appliesTo: 'Every run.',
  guidance: 'Fill in the field card during the run, parked or by a passenger.',
  limits: ({ retrospective: { outcome, whenMissing } }) =>
    `Recorded as driven pass; recorded afterwards ${outcome}, and whatever it lacks counts as ${whenMissing}`,
  evaluate(facts, { retrospective: { outcome } }) {
    if (!facts.record.isRetrospective) {
      return { outcome: 'pass', numbers: [], sentence: 'The run was recorded as it was driven.' };
    }
    const lacking = missingItems(facts);
    return {
      outcome,
      numbers: [{ name: 'Items missing', value: lacking.length, unit: '' }],
      sentence: join(
        'The run was recorded afterwards.',
        lacking.length === 0
          ? 'Nothing that the protocol asks for is missing.'
          : `Missing: ${lacking.join(', ')}.`,
        VERDICT_SENTENCES[outcome],
      ),
    };
  },
});

/** The finish counts: a run that is not over cannot have been read. */
const dateNotAhead = defineRule({
  id: 'date-not-ahead',
  field: 'startedAtLocal',
  schema: {
    date: z.object({
      aheadUpToS: limit('Finish ahead of the clock, pass up to', 'min'),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Date not in the future',
  why: 'A run that ends in the future has a wrong date, time or time zone, and with it the wrong weather.',
  appliesTo: 'Every run.',
  guidance: 'Check the date, the start time and the time zone of the loop.',
  limits: ({ date }) =>
    `Finish ahead of the clock ≤ ${writeLimit(date.aheadUpToS, minutes)} pass, otherwise fail`,
  evaluate({ record, now }, { date }) {
    const startS = millisecondsOf(record.startedAt) / 1000;
    const aheadS = startS + (record.readings.tripDuration?.value ?? 0) - millisecondsOf(now) / 1000;
    const isPast = isAtMost(aheadS, date.aheadUpToS);
    return {
      outcome: isPast ? 'pass' : 'fail',
      numbers: [
        {
          name: 'Finish ahead of the clock',
          value: minutes.toShown(aheadS),
          unit: 'min',
          limit: minutes.toShown(date.aheadUpToS),
        },
      ],
      ...spoken(
        isPast
          ? 'The run was over when it was sent in.'
          : said`The finish lies ${numberBeside(aheadS, [date.aheadUpToS], minutes, 0)} in the future; up to ${limitNumber(date.aheadUpToS, minutes)} is put down to clocks. Check the date, the start time and the time zone.`,
      ),
    };
  },
});

/** One record counts once: no version may loosen this, so it has no parameter. */
const notDuplicate = defineRule({
  id: 'not-duplicate',
  schema: {},
  absence: { heldBy: {} },
  group: 'Record',
  title: 'Not sent twice',
  why: 'A run counted twice makes its setup look surer than it is.',
  appliesTo: 'Every run.',
  guidance: 'To correct a run, open it and send a new revision.',
  limits: () => 'No earlier run with the same car, start, distance, energy and time pass, otherwise fail',
  evaluate({ duplicateOfRunNumber }) {
    if (duplicateOfRunNumber === undefined) {
      return { outcome: 'pass', numbers: [], sentence: 'No earlier run has the same content.' };
    }
    return {
      outcome: 'fail',
      numbers: [{ name: 'Same content as run', value: duplicateOfRunNumber, unit: '' }],
      sentence: `Run ${duplicateOfRunNumber} has the same car, start, distance, energy and time. Withdraw this one; to correct the other, send a new revision of it.`,
    };
  },
});

export const RECORD_RULES = [
  startDisplayPhoto,
  finishDisplayPhoto,
  retrospective,
  dateNotAhead,
  notDuplicate,
] as const;
