import { describe, expect, it } from 'vitest';
import { caseJsonSchema, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { exampleCase } from './exampleCase';

function pathsOf(input: unknown): string[] {
  const result = normalisationCaseSchema.safeParse(input);
  return result.success ? [] : result.error.issues.map((issue) => issue.path.join('.'));
}
const run = (changes: object) => ({ ...exampleCase(), run: { ...exampleCase().run, ...changes } });

describe('the input of a run to normalise', () => {
  it('is accepted as it stands and survives JSON', () => {
    expect(normalisationCaseSchema.parse(JSON.parse(JSON.stringify(exampleCase())))).toEqual(exampleCase());
  });

  it.each<[string, unknown, string]>([
    ['no energy', run({ energyWh: undefined }), 'run.energyWh'],
    ['energy of zero', run({ energyWh: 0 }), 'run.energyWh'],
    ['energy as text', run({ energyWh: '17000' }), 'run.energyWh'],
    ['NaN', run({ durationS: Number.NaN }), 'run.durationS'],
    ['Infinity', run({ distanceM: Number.POSITIVE_INFINITY }), 'run.distanceM'],
    ['temperature in kelvin', run({ airTemperatureC: 293 }), 'run.airTemperatureC'],
    ['humidity in percent', run({ relativeHumidity: 70 }), 'run.relativeHumidity'],
    ['pressure in hectopascal', run({ pressurePa: 995 }), 'run.pressurePa'],
    ['no air at all', run({ pressurePa: undefined, relativeHumidity: undefined }), 'run.pressurePa'],
    ['pressure without humidity', run({ relativeHumidity: undefined }), 'run.relativeHumidity'],
    ['no auxiliary power', run({ auxiliaryPowerW: undefined }), 'run.auxiliaryPowerW'],
    ['faster than 100 m/s', run({ durationS: 900 }), 'run.durationS'],
    ['half a stop', run({ stops: 0.5 }), 'run.stops'],
    ['a slow-down upwards', run({ stops: [{ fromMps: 10, toMps: 20 }] }), 'run.stops.0.toMps'],
    ['a misspelt field', run({ energyKwh: 17 }), 'run'],
    ['an unknown weather', run({ conditions: { precipitation: 'hail' } }), 'run.conditions.precipitation'],
    ['a light car', { ...exampleCase(), vehicle: { ...exampleCase().vehicle, massKg: 2 } }, 'vehicle.massKg'],
    ['no drag', { ...exampleCase(), vehicle: { massKg: 2000, tyreKind: 'road' } }, 'vehicle.dragAreaM2'],
    [
      'no rolling',
      { ...exampleCase(), vehicle: { massKg: 2000, bodyClass: 'van' } },
      'vehicle.rollingCoefficient',
    ],
    [
      'u and halfWidth',
      { ...exampleCase(), uncertainty: { energyWh: { u: 1, halfWidth: 1 } } },
      'uncertainty.energyWh.u',
    ],
    [
      'a normal halfWidth',
      { ...exampleCase(), uncertainty: { energyWh: { halfWidth: 1 } } },
      'uncertainty.energyWh.distribution',
    ],
    ['negative u', { ...exampleCase(), uncertainty: { energyWh: { u: -1 } } }, 'uncertainty.energyWh.u'],
    ['an unknown input', { ...exampleCase(), uncertainty: { energy: { u: 1 } } }, 'uncertainty'],
    [
      'a correlation above 1',
      { ...exampleCase(), correlations: [{ inputs: ['massKg', 'dragAreaM2'], coefficient: 1.1 }] },
      'correlations.0.coefficient',
    ],
    [
      'a correlation with itself',
      { ...exampleCase(), correlations: [{ inputs: ['massKg', 'massKg'], coefficient: 0.1 }] },
      'correlations.0.inputs',
    ],
    ['a list', [], ''],
  ])('%s is refused at its path', (_, input, path) => {
    const paths = pathsOf(input);
    expect(paths).toContain(path);
  });

  it('has a published JSON Schema with every field of the run', () => {
    const schema = caseJsonSchema() as {
      $schema: string;
      properties: { run: { properties: object; required: string[] } };
    };
    expect(schema.$schema).toContain('2020-12');
    expect(Object.keys(schema.properties)).toEqual([
      'name',
      'vehicle',
      'run',
      'reference',
      'uncertainty',
      'correlations',
    ]);
    for (const name of Object.keys(exampleCase().run))
      expect(schema.properties.run.properties).toHaveProperty(name);
    expect(schema.properties.run.required).toContain('energyWh');
    expect(schema.properties.run.required).not.toContain('stops');
  });
});
