import { z } from 'zod';
import { runNumber } from '@/app/runDossier/runNumber';
import { readRun } from '@/lib/registry/runs/run';
import { readRunList } from '@/lib/registry/runs/runList';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import { resource, word } from '../resource';
import { classKey, count, cursor, day, interval, named, page, pageOf, text, whPerKm, world } from '../shapes';

const normalised = z
  .object({
    whPerKm: whPerKm('Consumption at reference conditions'),
    uWhPerKm: whPerKm('Its standard uncertainty'),
    interval95: interval('it, Wh/km'),
  })
  .meta({ id: 'Normalised', description: 'Null where the conditions lay outside the method’s reach' });

const status = z.enum(PUBLIC_RUN_STATUSES).meta({ description: 'Only “approved” counts' });

const listed = z
  .object({
    number: count('Number of the run'),
    status,
    world,
    day: day('Day of the drive'),
    tester: named('its tester'),
    model: text('Maker, name and variant of the car'),
    setup: named('its setup'),
    loop: named('its loop'),
    cruiseClass: text('Label of its cruise class'),
    measuredWhPerKm: whPerKm('As measured').nullable(),
    normalised: normalised.nullable(),
    airTemperatureC: z.number().nullable().meta({ description: 'Air temperature, °C' }),
    windSpeedMps: z.number().nullable().meta({ description: 'Mean wind at the station, m/s' }),
  })
  .meta({ id: 'ListedRun' });

export const runs = resource({
  path: '/runs',
  id: 'listRuns',
  summary: 'Published runs, the latest first',
  pageOf: '/runs',
  query: z.object({
    class: classKey.optional(),
    model: word('Address part of a model').optional(),
    loop: word('Address part of a loop').optional(),
    tester: word('Address part of a tester').optional(),
    state: word('One of the public states', 'approved').optional(),
    from: cursor.optional(),
  }),
  answer: pageOf(listed),
  list: 'items',
  read: async (registry, { query: { class: key, ...filter } }) =>
    page(await readRunList(registry, { ...filter, classKey: key }), (run) => ({
      number: run.number,
      status: run.status as z.input<typeof status>,
      world: run.world,
      day: run.localDate,
      tester: { slug: run.tester.slug, name: run.tester.displayName },
      model: run.model,
      setup: { slug: run.setup.slug, name: run.setup.title },
      loop: { slug: run.loop.slug, name: run.loop.name },
      cruiseClass: run.classLabel,
      measuredWhPerKm: run.measuredWhPerKm,
      normalised: run.normalised && { ...run.normalised, interval95: [...run.normalised.interval95] },
      airTemperatureC: run.conditions?.airTemperatureC ?? null,
      windSpeedMps: run.conditions?.windSpeedMps ?? null,
    })),
});

const reading = z
  .object({
    quantity: text('What was read'),
    moment: text('When: at the start, at the turnaround, at the end'),
    instrument: text('By what'),
    enteredText: text('As typed'),
    enteredUnit: text('Unit as typed'),
    value: z.number().meta({ description: 'In `unit`' }),
    low: z.number().meta({ description: 'Least value that would be shown so' }),
    high: z.number().meta({ description: 'Greatest value that would be shown so' }),
    unit: text('Unit of value, low and high'),
  })
  .meta({ id: 'Reading' });

const finding = z
  .object({
    ruleId: text('Rule of the protocol'),
    title: text('Its title'),
    outcome: text('pass, caution, fail or not checked'),
    sentence: text('What was found'),
  })
  .meta({ id: 'Finding' });

export const run = resource({
  path: '/runs/{number}',
  id: 'getRun',
  summary: 'One published run: readings, conditions, result, findings',
  pageOf: '/runs/{number}',
  parts: z.object({ number: word('Number of the run', '1') }),
  answer: listed
    .omit({ normalised: true, airTemperatureC: true, windSpeedMps: true })
    .extend({
      revision: count('Revision that counts'),
      startedAt: z
        .string()
        .nullable()
        .meta({ description: 'Start; null where its tester publishes no more than the month' }),
      readings: z.array(reading),
      conditions: z
        .object({
          airTemperatureC: z.number().meta({ description: '°C' }),
          pressurePa: z.number().nullable().meta({ description: 'Pa, of the kind stated' }),
          pressureKind: text('What the pressure is').nullable(),
          relativeHumidity: z.number().nullable().meta({ description: '0 to 1' }),
          windSpeedMps: z.number().nullable().meta({ description: 'Mean, m/s' }),
          windFromDeg: z.number().nullable().meta({ description: 'From true north, degrees' }),
          windGustMps: z.number().nullable().meta({ description: 'm/s' }),
          precipitation: text('Rain or snow'),
          road: text('Surface'),
          traffic: text('How dense'),
        })
        .nullable(),
      result: z
        .object({
          methodVersion: text('Version of the method'),
          measuredWhPerKm: whPerKm('As measured'),
          normalisedWhPerKm: whPerKm('At reference conditions').nullable(),
          uWhPerKm: whPerKm('Standard uncertainty').nullable(),
        })
        .nullable(),
      caseUrl: text('Its input to the method, for computing it again'),
      protocolVersion: text('Version of the protocol that judged it'),
      findings: z.array(finding),
    })
    .meta({ id: 'Run' }),
  read: async (registry, { path }) => {
    const number = runNumber(path.number);
    const found = number === undefined ? undefined : await readRun(registry, undefined, number);
    if (found === undefined) return undefined;
    const { subject, result, conditions, findings } = found;
    const normalisation = result?.normalisation;
    return {
      number: found.number,
      status: found.status as z.input<typeof status>,
      world: found.world,
      day: subject.localDate,
      tester: { slug: subject.tester.slug, name: subject.tester.displayName },
      model: subject.model.name,
      setup: { slug: subject.setup.slug, name: subject.setup.title },
      loop: { slug: subject.loop.slug, name: subject.loop.name },
      cruiseClass: subject.classLabel,
      measuredWhPerKm: normalisation?.measuredWhPerKm ?? null,
      revision: found.revisionNumber,
      startedAt: subject.startedAt,
      readings: found.readings,
      conditions,
      result:
        result === undefined || normalisation === undefined
          ? null
          : {
              methodVersion: result.methodVersion,
              measuredWhPerKm: normalisation.measuredWhPerKm,
              normalisedWhPerKm:
                normalisation.outcome === 'normalised' ? normalisation.normalisedWhPerKm : null,
              uWhPerKm: normalisation.outcome === 'normalised' ? normalisation.uWhPerKm : null,
            },
      caseUrl: `/runs/${found.number}/case.json`,
      protocolVersion: findings.protocolLabel,
      findings: [...findings.notable, ...findings.notChecked, ...findings.passed],
    };
  },
});
