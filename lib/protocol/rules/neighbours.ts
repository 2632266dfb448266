import { z } from 'zod';
import type { RunQuantity } from '@/lib/run/fields/table';
import type { Neighbourhood, RunFacts, RunNeighbour, Scatter } from '../facts';
import { isAtMost } from '../grading';
import { millisecondsOf } from '../instant';
import { count, limit, probability, share, verdict } from '../parameterKinds';
import { defineRule, type Evaluation } from '../rule';
import { join, scaleOf, VERDICT_SENTENCES, writeLimit } from '../wording';

/**
 * What holds a run against runs that were there before: of other testers where numbers repeat, of one's own where two
 * drives overlap. All of it is a reason to look, and only what cannot have been driven fails.
 */

const minutes = scaleOf('min');
const plain = scaleOf('');

/** Readings that two drives do not share by habit: a full charge or a tyre pressure is the same again and again. */
const TOLD_BY: readonly RunQuantity[] = [
  'tripDistance',
  'tripEnergy',
  'tripEfficiency',
  'tripDuration',
  'tripMeanSpeed',
  'chargeStart',
  'chargeEnd',
  'chargerEnergy',
  'outboundDistance',
  'outboundEnergy',
  'outboundDuration',
  'odometerStart',
  'odometerEnd',
  'airTemperature',
  'airPressure',
  'relativeHumidity',
  'windSpeed',
];

/** Of the drive itself, not of the day: what is only nearly a copy has these nearly the same. */
const OF_THE_DRIVE: readonly RunQuantity[] = [
  'tripDistance',
  'tripEnergy',
  'tripEfficiency',
  'tripDuration',
  'tripMeanSpeed',
  'outboundDistance',
  'outboundEnergy',
  'outboundDuration',
];

/** So many runs are named. */
const MOST_NAMED = 5;

/** The two values of each quantity that both runs state. */
function shared({ record }: RunFacts, other: RunNeighbour, of: readonly RunQuantity[]): [number, number][] {
  return of.flatMap((quantity) => {
    const [own, theirs] = [record.readings[quantity]?.value, other.readings[quantity]];
    return own === undefined || theirs === undefined ? [] : [[own, theirs] as [number, number]];
  });
}

/** The same number, whatever unit it was typed in. */
const isSame = ([a, b]: [number, number]) => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));

function isCopy(facts: RunFacts, other: RunNeighbour, from: number): boolean {
  const pairs = shared(facts, other, TOLD_BY);
  return pairs.length >= from && pairs.every(isSame);
}

function listOf(runs: readonly RunNeighbour[]): string {
  const named = runs
    .slice(0, MOST_NAMED)
    .map(({ runNumber, isOwn }) => `run ${runNumber} of ${isOwn ? 'the same' : 'another'} tester`);
  const more = runs.length - named.length;
  return [...named, ...(more > 0 ? [`${more} more`] : [])].join(', ');
}

const numbersOf = (name: string, runs: readonly RunNeighbour[]) =>
  runs.slice(0, MOST_NAMED).map(({ runNumber }) => ({ name, value: runNumber, unit: '' as const }));

const UNKNOWN: Evaluation = {
  outcome: 'notChecked',
  numbers: [],
  sentence: 'Not checked: the run was not held against others.',
};

const withOthers = (facts: RunFacts, evaluate: (of: Neighbourhood) => Evaluation): Evaluation =>
  facts.neighbourhood === undefined ? UNKNOWN : evaluate(facts.neighbourhood);

const copiedReadings = defineRule({
  id: 'copied-readings',
  field: 'tripEnergy',
  schema: {
    copies: z.object({
      sameFromReadings: count('Readings copied: told from so many readings on'),
      sameAsAnother: verdict('All readings of a run of another tester'),
      sameAsOwn: verdict('All readings of another run of one’s own'),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Readings of no other run',
  why: 'Two drives never have all numbers in common, whatever car they are written down for.',
  appliesTo: 'Runs with enough readings to tell.',
  guidance: 'Enter what the display showed on this drive.',
  limits: ({ copies: { sameFromReadings, sameAsAnother, sameAsOwn } }) =>
    `No run with the same readings pass; all of ${sameFromReadings} or more the same as on a run of another tester ${sameAsAnother}, as on another run of one’s own ${sameAsOwn}`,
  evaluate: (facts, { copies: { sameFromReadings, sameAsAnother, sameAsOwn } }) =>
    withOthers(facts, ({ runs }) => {
      const copies = runs
        .filter((other) => isCopy(facts, other, sameFromReadings))
        .sort((a, b) => Number(a.isOwn) - Number(b.isOwn) || a.runNumber - b.runNumber);
      const [first] = copies;
      if (first === undefined)
        return { outcome: 'pass', numbers: [], sentence: 'No earlier run has all of its readings.' };
      const outcome = first.isOwn ? sameAsOwn : sameAsAnother;
      return {
        outcome,
        numbers: numbersOf('Same readings as run', copies),
        sentence: join(
          `All readings are the same as on ${listOf(copies)}.`,
          VERDICT_SENTENCES[outcome],
          outcome === 'pass' ? '' : 'Enter what the display showed on this drive.',
        ),
      };
    }),
});

const nearlyCopied = defineRule({
  id: 'nearly-copied-readings',
  field: 'tripEnergy',
  schema: {
    nearCopies: z.object({
      withinShare: share('Readings nearly copied: all of the drive within'),
      fromReadings: count('Readings nearly copied: told from so many readings on'),
      outcome: verdict('Readings nearly those of a run of another tester'),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Readings unlike those of other testers',
  why: 'A copy with its last digits changed is still a copy.',
  appliesTo: 'Runs with enough readings of the drive to tell.',
  guidance: 'Two drives may come out alike by chance: say in the notes that this was one of its own.',
  limits: ({ nearCopies: { withinShare, fromReadings, outcome } }) =>
    `No run of another tester with ${fromReadings} or more readings of the drive all within ${plain.toShown(100 * withinShare)} % pass, otherwise ${outcome}`,
  evaluate: (facts, { nearCopies: { withinShare, fromReadings, outcome } }) =>
    withOthers(facts, ({ runs }) => {
      const near = [...runs]
        .sort((a, b) => a.runNumber - b.runNumber)
        .filter((other) => {
          if (other.isOwn) return false;
          const pairs = shared(facts, other, OF_THE_DRIVE);
          const isNear = ([a, b]: [number, number]) =>
            isAtMost(Math.abs(a - b), withinShare * Math.max(Math.abs(a), Math.abs(b)));
          return pairs.length >= fromReadings && pairs.every(isNear) && !pairs.every(isSame);
        });
      if (near.length === 0)
        return {
          outcome: 'pass',
          numbers: [],
          sentence: 'No earlier run of another tester is as near as that.',
        };
      return {
        outcome,
        numbers: numbersOf('Nearly the readings of run', near),
        sentence: join(
          `The readings of the drive are nearly those of ${listOf(near)}.`,
          VERDICT_SENTENCES[outcome],
          outcome === 'pass' ? '' : 'If it was a drive of its own, say so in the notes.',
        ),
      };
    }),
});

/** How long two runs were both under way, s; 0 where one of them does not say how long it took. */
function overlapS({ record }: RunFacts, other: RunNeighbour): number {
  const ownS = record.readings.tripDuration?.value;
  if (ownS === undefined || other.durationS === null) return 0;
  const [own, theirs] = [millisecondsOf(record.startedAt) / 1000, millisecondsOf(other.startedAt) / 1000];
  return Math.max(0, Math.min(own + ownS, theirs + other.durationS) - Math.max(own, theirs));
}

const oneDriveAtATime = defineRule({
  id: 'one-drive-at-a-time',
  field: 'startedAtLocal',
  schema: {
    overlaps: z.object({
      upToS: limit('Two runs under way at once, pass up to', 'min'),
      ofOneCar: verdict('Two runs of one car at once'),
      ofOneTester: verdict('Two runs of one tester in two cars at once'),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'One drive at a time',
  why: 'A car is in one place. A tester may lend a second car to somebody, and then says so.',
  appliesTo: 'Runs that say how long they took.',
  guidance: 'Check the date, the start time and the time zone of both runs.',
  limits: ({ overlaps: { upToS, ofOneCar, ofOneTester } }) =>
    `Under way together with another run ≤ ${writeLimit(upToS, minutes)} pass, otherwise ${ofOneCar} for one car and ${ofOneTester} for two cars of one tester`,
  evaluate: (facts, { overlaps: { upToS, ofOneCar, ofOneTester } }) =>
    withOthers(facts, ({ runs }) => {
      if (facts.record.readings.tripDuration === undefined)
        return {
          outcome: 'notChecked',
          numbers: [],
          sentence: 'Not checked: the run does not say how long it took.',
        };
      const together = runs
        .map((other) => ({ other, s: overlapS(facts, other) }))
        .filter(({ other, s }) => (other.isSameCar || other.isOwn) && !isAtMost(s, upToS))
        .sort(
          (a, b) =>
            Number(b.other.isSameCar) - Number(a.other.isSameCar) ||
            b.s - a.s ||
            a.other.runNumber - b.other.runNumber,
        );
      const [most] = together;
      if (most === undefined)
        return {
          outcome: 'pass',
          numbers: [],
          sentence: 'Neither car nor tester had another run under way.',
        };
      const { isSameCar, isSameLoop, runNumber } = most.other;
      const outcome = isSameCar ? ofOneCar : ofOneTester;
      const what = isSameCar
        ? `The car${isSameLoop ? '' : ', on another loop,'}`
        : 'The tester, in another car,';
      return {
        outcome,
        numbers: [
          { name: 'Together with run', value: runNumber, unit: '' },
          {
            name: 'Under way together',
            value: minutes.toShown(most.s),
            unit: 'min',
            limit: minutes.toShown(upToS),
          },
        ],
        sentence: join(
          `${what} was under way on run ${runNumber} as well.`,
          VERDICT_SENTENCES[outcome],
          outcome === 'pass' ? '' : 'Check the date, the start time and the time zone of both.',
        ),
      };
    }),
});

const digits = defineRule({
  id: 'last-digits',
  field: 'tripEnergy',
  schema: {
    digits: z.object({
      fromReadings: count('Last digits: told from so many readings on'),
      passFromPValue: probability('Last digits as uneven by chance, pass from a probability of'),
      outcome: verdict('Last digits too uneven, or too even'),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Last digits as displays show them',
  why: 'The last digit of an energy is any of ten about equally often; people who make numbers up prefer some.',
  appliesTo: 'Testers with enough energies on record, this run’s among them.',
  guidance: 'Enter all digits that the display shows, and round nothing.',
  limits: ({ digits: { fromReadings, passFromPValue, outcome } }) =>
    `Chi-square test of the tester’s last digits of energies, both tails, from ${fromReadings} readings on: pass from a probability of ${passFromPValue}, otherwise ${outcome}`,
  evaluate: (facts, { digits: { fromReadings, passFromPValue, outcome } }) =>
    withOthers(facts, ({ lastDigits }) => {
      if (lastDigits === null || lastDigits.readings < fromReadings)
        return {
          outcome: 'notChecked',
          numbers: [],
          sentence: 'Not checked: the tester has too few energies on record.',
        };
      const isFair = lastDigits.pValue >= passFromPValue;
      return {
        outcome: isFair ? 'pass' : outcome,
        numbers: [
          { name: 'Energies', value: lastDigits.readings, unit: '' },
          { name: 'Probability by chance', value: lastDigits.pValue, unit: '', limit: passFromPValue },
        ],
        sentence: isFair
          ? 'The last digits of the tester’s energies are as displays show them.'
          : join(
              'The last digits of the tester’s energies are not as displays show them.',
              VERDICT_SENTENCES[outcome],
              outcome === 'pass'
                ? ''
                : 'Say in the notes if the display shows fewer digits or they were rounded.',
            ),
      };
    }),
});

const WHY_SCATTER =
  'Displays round, wind changes and no two drives are the same: numbers that agree better than that were not all driven.';
const DRIVE_EACH = 'Enter each run as it was driven, also one that came out differently.';

interface ScatterLimits {
  fromDof: number;
  passFromPValue: number;
  outcome: 'pass' | 'caution' | 'fail';
}

/** `whose` runs of a setup on a day, as sentences and limits name them. */
const scatterLimits = (whose: string, { fromDof, passFromPValue, outcome }: ScatterLimits) =>
  `Lower tail of chi-square for ${whose} within setups and days, from ${fromDof} degrees of freedom on: pass from a probability of ${passFromPValue}, otherwise ${outcome}`;

function judgeScatter(
  found: Scatter | null,
  { fromDof, passFromPValue, outcome }: ScatterLimits,
  { whose, tooFew }: { whose: string; tooFew: string },
): Evaluation {
  if (found === null || found.dof < fromDof)
    return { outcome: 'notChecked', numbers: [], sentence: `Not checked: ${tooFew}.` };
  const isFair = found.pValue >= passFromPValue;
  return {
    outcome: isFair ? 'pass' : outcome,
    numbers: [
      { name: 'Variance over that of the class', value: found.ratio, unit: '' },
      { name: 'Probability by chance', value: found.pValue, unit: '', limit: passFromPValue },
    ],
    sentence: isFair
      ? `${whose} scatter as runs of this class do.`
      : join(
          `${whose} agree better than runs of this class do.`,
          VERDICT_SENTENCES[outcome],
          outcome === 'pass' ? '' : 'Look at the photos of each.',
        ),
  };
}

const spread = defineRule({
  id: 'spread-of-runs',
  schema: {
    spread: z.object({
      fromDof: count('Spread of runs: told from so many degrees of freedom on'),
      passFromPValue: probability('Spread as small by chance, pass from a probability of'),
      outcome: verdict('Runs that agree too well'),
    }),
  },
  absence: 'notJudged',
  group: 'Result',
  title: 'Runs that scatter as runs do',
  why: WHY_SCATTER,
  appliesTo: 'Testers with several runs of a setup on a day, in a class whose scatter is known.',
  guidance: DRIVE_EACH,
  limits: ({ spread: limits }) => scatterLimits('the tester’s runs', limits),
  evaluate: (facts, { spread: limits }) =>
    withOthers(facts, ({ spread: found }) =>
      judgeScatter(found, limits, {
        whose: 'The tester’s runs of a setup on a day',
        tooFew: 'too few runs of a setup on one day to see how they scatter',
      }),
    ),
});

const spreadOfSetup = defineRule({
  id: 'spread-of-setup',
  schema: {
    spreadOfSetup: z.object({
      fromDof: count('Spread of a setup: told from so many degrees of freedom on'),
      passFromPValue: probability('Spread of a setup as small by chance, pass from a probability of'),
      outcome: verdict('Runs of one setup that agree too well'),
    }),
  },
  absence: 'notJudged',
  group: 'Result',
  title: 'Runs of one setup that scatter as runs do',
  why: `${WHY_SCATTER} Those who want one setting to win make up its runs and not the others’.`,
  appliesTo: 'Setups with several runs of a car on a day, in a class whose scatter is known.',
  guidance: DRIVE_EACH,
  limits: ({ spreadOfSetup: limits }) => scatterLimits('all runs of the setup', limits),
  evaluate: (facts, { spreadOfSetup: limits }) =>
    withOthers(facts, ({ spreadOfSetup: found }) =>
      judgeScatter(found, limits, {
        whose: 'All runs of this setup by a car on a day',
        tooFew: 'too few runs of this setup by one car on one day to see how they scatter',
      }),
    ),
});

const spreadOfCluster = defineRule({
  id: 'spread-of-cluster',
  schema: {
    spreadOfCluster: z.object({
      fromDof: count('Spread among testers who count as one: told from so many degrees of freedom on'),
      passFromPValue: probability('Spread among them as small by chance, pass from a probability of'),
      outcome: verdict('Runs of testers who count as one that agree too well'),
    }),
  },
  absence: 'notJudged',
  group: 'Result',
  title: 'Runs of testers who count as one that scatter as runs do',
  why: `${WHY_SCATTER} Spread over several accounts, each would have too few to be seen.`,
  appliesTo: 'Testers who count as one with others, in a class whose scatter is known.',
  guidance: DRIVE_EACH,
  limits: ({ spreadOfCluster: limits }) => scatterLimits('runs of testers who count as one', limits),
  evaluate: (facts, { spreadOfCluster: limits }) =>
    withOthers(facts, ({ spreadOfCluster: found }) =>
      judgeScatter(found, limits, {
        whose: 'The runs of a setup on a day of this tester and those who count as one with them',
        tooFew: 'nobody counts as one with this tester, or together they have too few runs',
      }),
    ),
});

/** Marks, never judges: many honest runs have nothing but their form. */
const independentTrace = defineRule({
  id: 'independent-trace',
  schema: {
    trace: z.object({
      without: z.enum(['notChecked', 'caution']).meta({ label: 'Nothing independent of the form', unit: '' }),
    }),
  },
  absence: 'notJudged',
  group: 'Record',
  title: 'Something beside the form',
  why: 'A recording, or a photo that says when it was taken, tells of the drive without its tester.',
  appliesTo: 'Every run.',
  guidance: 'Attach a recording of the drive, or keep the time of capture of the photos.',
  limits: ({ trace: { without } }) =>
    `A recording, or a photo that says its time, pass; otherwise ${without === 'caution' ? 'caution' : 'not checked, and marked as such'}`,
  evaluate: (facts, { trace: { without } }) =>
    withOthers(facts, ({ hasRecording }) => {
      const isThere = hasRecording || facts.photoTimes.length > 0;
      const found = [
        ...(hasRecording ? ['a recording'] : []),
        ...(facts.photoTimes.length > 0 ? ['the time of a photo'] : []),
      ];
      return {
        outcome: isThere ? 'pass' : without,
        numbers: [],
        sentence: isThere
          ? `Beside the form the drive is told by ${found.join(' and ')}.`
          : 'Nothing independent of the form tells of this drive: neither a recording nor a photo that says its time.',
      };
    }),
});

export const NEIGHBOUR_RULES = [
  copiedReadings,
  nearlyCopied,
  oneDriveAtATime,
  digits,
  independentTrace,
] as const;

export const SPREAD_RULES = [spread, spreadOfSetup, spreadOfCluster] as const;
