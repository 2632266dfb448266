import { expect, it } from 'vitest';
import { DRAG_AREA_PRIORS, ROLLING_PRIORS } from '@/lib/physics/priors';
import { BODY_CLASSES, bodyLabel } from '@/lib/run/bodyClass';
import { modelInText, modelWords } from '@/lib/run/modelWords';
import { valuesOf } from '@/lib/run/namedValues';
import { TYRE_KINDS, tyreKindOf } from '@/lib/run/tyreKind';
import { BodyClass } from '@/prisma/generated/enums';

it('knows the body classes that the database keeps, and a prior for each', () => {
  expect(valuesOf(BODY_CLASSES).sort()).toEqual(Object.values(BodyClass).sort());
  expect(Object.keys(DRAG_AREA_PRIORS).sort()).toEqual(Object.values(BodyClass).sort());
  expect(Object.keys(ROLLING_PRIORS).sort()).toEqual(valuesOf(TYRE_KINDS).sort());
  expect(bodyLabel('van')).toBe('Van or small bus');
  expect(bodyLabel('barge')).toBe('barge');
});

it('takes the tyres of the setup, else those of delivery, else road tyres', () => {
  expect(tyreKindOf(null, 'allTerrain', 'road')).toBe('allTerrain');
  expect(tyreKindOf(null, undefined)).toBe('road');
  expect(tyreKindOf('slick', 'allTerrain')).toBe('road');
});

it('names a model on one line, without a gap where there is no variant', () => {
  const model = { maker: { name: 'Skerran' }, name: 'Juna', modelYear: 2025, variant: '' };
  expect(modelWords(model)).toBe('Skerran Juna 2025');
  expect(modelInText({ ...model, variant: 'long' })).toBe('Skerran Juna, 2025, long');
});
