import { expect, it } from 'vitest';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { readEstimate } from '@/lib/registry/estimates/readEstimate';
import { readTrips } from '@/lib/registry/estimates/readTrips';
import type { Registry } from '@/lib/registry/registry';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { PrismaClient } from '@/prisma/generated/client';

interface Known {
  registry: Registry;
  prisma: PrismaClient;
}

/** Setups of a class with what its fit says of them, those with an interval for a further car and the others. */
async function estimatesAt({ prisma }: Known, classKey: string) {
  const found = await prisma.estimate.findMany({
    where: { fit: { isCurrent: true, group: { cruiseClassKey: classKey, world: 'demo' } } },
    include: { setup: { include: { model: { include: { setups: true } } } } },
    orderBy: { setupId: 'asc' },
  });
  return {
    known: found.filter(({ intervalKind }) => intervalKind === 'model'),
    young: found.filter(({ intervalKind }) => intervalKind !== 'model'),
  };
}

async function answered({ registry }: Known, query: Parameters<typeof readEstimate>[1]) {
  const view = await readEstimate(registry, query);
  if (view.outcome.kind !== 'answered') throw new Error(`${query.setupSlug}: ${view.outcome.kind}`);
  return { ...view, ...view.outcome };
}

/** What an estimate joins, over the whole demo world. */
export function itEstimates(of: () => Known, classKeys: readonly string[]): void {
  it('is the setup’s own estimate at reference conditions, in every class', async () => {
    let seen = 0;
    for (const classKey of classKeys) {
      const { known } = await estimatesAt(of(), classKey);
      for (const { setup, estimateWhPerKm, lowWhPerKm, highWhPerKm } of known.slice(0, 6)) {
        const view = await answered(of(), { form: {}, setupSlug: setup.slug, classKey });
        expect(view.of.key).toBe(classKey);
        expect(view.speedMps).toBe(cruiseClassByKey(classKey)?.speedMps);
        const { value, low, high } = view.first.whPerKm;
        expect(view.first.referenceWhPerKm / estimateWhPerKm).toBeCloseTo(1, 9);
        // dry air of 100 kPa is lighter than 1.189 kg/m³ by a half per mille, and calm is never quite calm
        expect(Math.abs(value / estimateWhPerKm - 1), setup.slug).toBeLessThan(0.002);
        // one trip of one car is less sure than the mean of all
        expect(high / low).toBeGreaterThan((highWhPerKm ?? 0) / (lowWhPerKm ?? 1));
        seen += 1;
      }
    }
    expect(seen).toBeGreaterThan(15);
  });

  it('adds its parts up to what it says, and tells the measured from the assumed', async () => {
    const { known } = await estimatesAt(of(), 'kmh-110');
    const form = { air: '-5', climate: 'heating', windSpeed: '4', windFrom: 'ahead' };
    const { first } = await answered(of(), { form, setupSlug: known[0]?.setup.slug });
    const total = first.parts.reduce((sum, { variance }) => sum + variance, 0);
    const { value = 0, low = 0, high = 0 } = first.rangeM ?? {};
    // 95 % is two standard uncertainties or, at few degrees of freedom, more
    const halfWidth = Math.log(high / low) / 2;
    expect(halfWidth / Math.sqrt(total)).toBeGreaterThan(1.95);
    expect(halfWidth / Math.sqrt(total)).toBeLessThan(3.2);
    expect(value).toBeGreaterThan(50_000);
    expect(first.parts.map(({ key }) => key)).toEqual(
      expect.arrayContaining(['runs', 'cars', 'days', 'wind', 'cabin', 'capacity']),
    );
    expect(first.parts.filter(({ basis }) => basis !== 'assumed').length).toBeGreaterThan(2);
  });

  it('knows the difference of two setups far better than either, the same way round as their comparison', async () => {
    const { known } = await estimatesAt(of(), 'kmh-110');
    let [settled, narrower] = [0, 0];
    for (const { setup } of known.slice(0, 10)) {
      const second = known.find(
        ({ setup: other }) => other.modelId === setup.modelId && other.id > setup.id,
      )?.setup;
      if (second === undefined) continue;
      const slugs = { setupSlug: setup.slug, againstSlug: second.slug, classKey: 'kmh-110' };
      const view = await answered(of(), { form: {}, ...slugs });
      const { rangeM } = view.differences ?? {};
      if (view.of.key !== 'kmh-110' || rangeM === undefined || view.first.rangeM === null) continue;
      const comparison = await readComparison(of().registry, {
        classKey: 'kmh-110',
        world: 'demo',
        setupSlugs: [setup.slug, second.slug],
        wanted: { percent: 2, power: 0.8 },
      });
      const [difference] = comparison?.differences ?? [];
      if (difference?.word === 'settled') {
        settled += 1;
        // less consumption is more range
        expect(Math.sign(rangeM.value), second.slug).toBe(-Math.sign(difference.percent ?? 0));
      }
      if (rangeM.high - rangeM.low < 0.6 * (view.first.rangeM.high - view.first.rangeM.low)) narrower += 1;
    }
    expect(settled).toBeGreaterThan(1);
    expect(narrower).toBeGreaterThan(3);
  });

  it('refuses what the method does not reach, and answers at the nearest that it names', async () => {
    const { known } = await estimatesAt(of(), 'kmh-110');
    const setupSlug = known[0]?.setup.slug;
    const view = await readEstimate(of().registry, { form: { air: '-31', speed: '150' }, setupSlug });
    if (view.outcome.kind !== 'refused') throw new Error(view.outcome.kind);
    const nearest = new Map(view.outcome.refusal.nearest.map((one) => [one.condition, one.nearest]));
    expect(nearest.get('airTemperatureC')).toBe(-20);
    const speed = String(3.6 * (nearest.get('cruiseSpeedMps') ?? 0));
    await answered(of(), { form: { air: '-20', speed }, setupSlug });
  });

  it('has every fault told at its field, and no number where too little was driven', async () => {
    const { known, young } = await estimatesAt(of(), 'kmh-110');
    const setupSlug = known[0]?.setup.slug;
    const view = await readEstimate(of().registry, { form: { speed: 'x', start: '5' }, setupSlug });
    // less than the charge that stands for arrival
    expect(view.issues.map(({ path }) => path)).toEqual(['speed', 'arrive']);
    expect(view.outcome.kind).toBe('invalid');
    const unknown = await readEstimate(of().registry, { form: {}, setupSlug: '__proto__' });
    expect([unknown.isUnknown, unknown.outcome.kind]).toEqual([true, 'nothingAsked']);
    for (const { setup } of young) {
      const { outcome } = await readEstimate(of().registry, { form: {}, setupSlug: setup.slug });
      // it may have an interval in another class
      if (outcome.kind === 'answered') expect(outcome.of.key).not.toBe('kmh-110');
      else expect(outcome).toEqual({ kind: 'noNumber', why: 'noInterval' });
    }
  });

  it('says of the usual trip what the page says that one asks for', async () => {
    const { known } = await estimatesAt(of(), 'kmh-110');
    const slugs = known.slice(0, 3).map(({ setup }) => setup.slug);
    const trips = await readTrips(of().registry, { world: 'demo', classKey: 'kmh-110' }, slugs);
    expect(trips.map(({ slug }) => slug)).toEqual(slugs);
    for (const { slug, rangeM, trip, boughtWh } of trips) {
      const { first } = await answered(of(), { form: {}, setupSlug: slug, classKey: 'kmh-110' });
      expect(rangeM).toEqual(first.rangeM);
      expect(trip?.totalS).toEqual(first.trip?.totalS);
      // losses while charging are paid for
      expect(boughtWh?.value).toBeGreaterThan(first.trip?.drawnWh ?? Number.POSITIVE_INFINITY);
    }
  });
}
