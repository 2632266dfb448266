import { describe, expect, it } from 'vitest';
import { evaluate } from '@/lib/stats/criterion';
import { fitGroup } from '@/lib/stats/fitGroup';
import { contrast, infer, rescale } from '@/lib/stats/inference';
import { prepare } from '@/lib/stats/problem';
import { type FreeComponents, fitReml } from '@/lib/stats/reml';
import { layOutRuns, type Observation } from '@/lib/stats/structure';
import { denseFit } from './dense';
import { largestRelativeGap, readResult, readSynthetic, readTable } from './reference';
import { simulateRuns } from './runs';

interface Polished {
  varcomp: number[];
  REMLcrit: number;
  beta: number | number[];
  se: number | number[];
  df_satt: number | number[];
  se_kr: number | number[];
  df_kr: number | number[];
}

const polished = readResult<Record<string, Polished>>('classic_polished');
const all: FreeComponents = { car: true, carLoop: false, session: true, residual: true };
const nested: FreeComponents = { car: true, carLoop: true, session: true, residual: true };
const noSession: FreeComponents = { car: true, carLoop: false, session: false, residual: true };

const list = (x: number | number[]) => (Array.isArray(x) ? x : [x]);

function oneWay(name: string): Observation[] {
  return readTable(name).map((row) => ({
    setup: 'all',
    car: row.Batch as string,
    session: '',
    z: Number(row.Yield),
    u: 0,
  }));
}

const pastes: Observation[] = readTable('Pastes').map((row) => ({
  setup: 'all',
  car: row.batch as string,
  session: row.cask as string,
  z: Number(row.strength),
  u: 0,
}));

const oats = readTable('Oats');
const oatRuns: Observation[] = oats.map((row) => ({
  setup: `${row.Variety}|${row.nf}`,
  car: row.Block as string,
  session: row.Variety as string,
  z: Number(row.yield),
  u: 0,
}));
const oatSetups = [...new Set(oatRuns.map((r) => r.setup))].sort();
// R's treatment contrasts: intercept, Variety (baseline Golden Rain), nf (baseline 0).
const oatDesign = oatSetups.map((setup) => {
  const [variety, nitrogen] = setup.split('|');
  return [
    1,
    Number(variety === 'Marvellous'),
    Number(variety === 'Victory'),
    ...['0.2', '0.4', '0.6'].map((level) => Number(nitrogen === level)),
  ];
});

function fitted(runs: Observation[], free: FreeComponents, design: number[][] | null = null) {
  const problem = prepare(layOutRuns(runs), design, free.carLoop);
  const fit = fitReml(problem, free);
  const square = problem.scale ** 2;
  return {
    problem,
    fit,
    car: fit.at.variances.car * square,
    carLoop: fit.at.variances.carLoop * square,
    session: fit.at.variances.session * square,
    residual: fit.at.variances.residual * square,
  };
}

describe('REML against R (lme4, refined by a dense Newton iteration)', { timeout: 30_000 }, () => {
  it.each([
    { name: 'Dyestuff', runs: oneWay('Dyestuff'), free: noSession, order: ['car', 'residual'] as const },
    { name: 'Pastes', runs: pastes, free: all, order: ['car', 'session', 'residual'] as const },
    {
      name: 'synthKV_u0',
      runs: readSynthetic('synthKV', false),
      free: all,
      order: ['car', 'session', 'residual'] as const,
    },
    {
      name: 'synthKV_knownU',
      runs: readSynthetic('synthKV', true),
      free: all,
      order: ['car', 'session', 'residual'] as const,
    },
  ])('$name: components, criterion, effects, standard errors and degrees of freedom', (c) => {
    const wanted = polished[c.name] as Polished;
    const f = fitted(c.runs, c.free);
    expect(f.fit.converged).toBe(true);
    expect(f.fit.boundary).toEqual([]);
    expect(
      largestRelativeGap(
        c.order.map((name) => f[name]),
        wanted.varcomp,
      ),
    ).toBeLessThan(1e-8);
    expect(Math.abs(f.fit.at.deviance - wanted.REMLcrit)).toBeLessThan(1e-7);
    for (const method of ['satterthwaite', 'kenward-roger'] as const) {
      const inference = infer(f.problem, f.fit.at, {
        method,
        free: c.order,
        interior: c.order,
      });
      const rows = list(wanted.beta).map((_, k) => contrast(inference, [[k, 1]]));
      const kr = method === 'kenward-roger';
      expect(
        largestRelativeGap(
          rows.map((r) => r.difference),
          list(wanted.beta),
        ),
      ).toBeLessThan(1e-10);
      expect(
        largestRelativeGap(
          rows.map((r) => r.se),
          list(kr ? wanted.se_kr : wanted.se),
        ),
      ).toBeLessThan(1e-8);
      expect(
        largestRelativeGap(
          rows.map((r) => r.df),
          list(kr ? wanted.df_kr : wanted.df_satt),
        ),
      ).toBeLessThan(1e-7);
    }
  });

  it('Oats: two fixed factors over split plots, as a design over the twelve cells', () => {
    const wanted = polished.Oats as Polished;
    const f = fitted(oatRuns, all, oatDesign);
    expect(largestRelativeGap([f.car, f.session, f.residual], wanted.varcomp)).toBeLessThan(1e-8);
    expect(Math.abs(f.fit.at.deviance - wanted.REMLcrit)).toBeLessThan(1e-7);
    interface Emmeans {
      means: { Variety: string; emmean: number; SE: number; df: number }[];
      pairs_none: { contrast: string; estimate: number; SE: number; df: number }[];
    }
    const emmeans = readResult<{ Oats: { KR: Emmeans; Satterthwaite: Emmeans } }>('classic_emmeans').Oats;
    const of = (variety: string, sign: number) =>
      oatSetups.flatMap((setup, k) => (setup.startsWith(variety) ? [[k, sign / 4] as const] : []));
    for (const [method, table] of [
      ['kenward-roger', emmeans.KR],
      ['satterthwaite', emmeans.Satterthwaite],
    ] as const) {
      const inference = infer(f.problem, f.fit.at, {
        method,
        free: ['car', 'session', 'residual'],
        interior: ['car', 'session', 'residual'],
      });
      for (const mean of table.means) {
        const found = contrast(inference, of(mean.Variety, 1));
        expect(found.difference).toBeCloseTo(mean.emmean, 8);
        expect(Math.abs(found.se / mean.SE - 1)).toBeLessThan(1e-6);
        expect(Math.abs(found.df / mean.df - 1)).toBeLessThan(1e-6);
      }
      for (const pair of table.pairs_none) {
        const [a, b] = pair.contrast.split(' - ') as [string, string];
        const found = contrast(inference, [...of(a, 1), ...of(b, -1)]);
        expect(found.difference).toBeCloseTo(pair.estimate, 8);
        expect(Math.abs(found.se / pair.SE - 1)).toBeLessThan(1e-6);
        expect(Math.abs(found.df / pair.df - 1)).toBeLessThan(1e-6);
      }
    }
  });

  it('Dyestuff2: a component at exactly 0, with 29 (observed) and 5 (Kenward–Roger) degrees of freedom', () => {
    interface Row {
      REMLcrit: number;
      sigma2: number;
      fixef: { est: number; se: number }[];
      kenward_roger: { se_kr: number; df_kr: number }[];
    }
    const wanted = readResult<{ Dyestuff2: Row }>('classic_lmm').Dyestuff2;
    const f = fitted(oneWay('Dyestuff2'), noSession);
    expect(f.car).toBe(0);
    expect(f.fit.boundary).toEqual(['car']);
    expect(f.fit.converged).toBe(true);
    expect(Math.abs(f.residual / wanted.sigma2 - 1)).toBeLessThan(1e-9);
    expect(Math.abs(f.fit.at.deviance - wanted.REMLcrit)).toBeLessThan(1e-8);
    const observed = contrast(
      infer(f.problem, f.fit.at, {
        method: 'satterthwaite',
        free: ['car', 'residual'],
        interior: f.fit.interior,
      }),
      [[0, 1]],
    );
    expect(Math.abs(observed.se / (wanted.fixef[0]?.se as number) - 1)).toBeLessThan(1e-8);
    expect(observed.df).toBeCloseTo(29, 8);
    const adjusted = contrast(
      infer(f.problem, f.fit.at, {
        method: 'kenward-roger',
        free: ['car', 'residual'],
        interior: f.fit.interior,
      }),
      [[0, 1]],
    );
    expect(Math.abs(adjusted.se / (wanted.kenward_roger[0]?.se_kr as number) - 1)).toBeLessThan(1e-8);
    expect(adjusted.df).toBeCloseTo(wanted.kenward_roger[0]?.df_kr as number, 8);
  });

  it('known run variances: agrees with metafor rma.mv and a dense direct fit', () => {
    const f = fitted(readSynthetic('synthKV', true), all);
    const metafor = readResult<{ sigma2: number[]; b: number[]; se: number[] }>('synthKV_rmamv');
    const dense = readResult<{ varcomp: number[]; REMLdeviance: number }>('synthKV_dense');
    // metafor and the dense fit stop their optimisers at about 6 to 7 digits of the components.
    expect(largestRelativeGap([f.car, f.session, f.residual], metafor.sigma2)).toBeLessThan(2e-6);
    expect(largestRelativeGap([f.car, f.session, f.residual], dense.varcomp)).toBeLessThan(2e-6);
    expect(Math.abs(f.fit.at.deviance - dense.REMLdeviance)).toBeLessThan(1e-5);
    const inference = infer(f.problem, f.fit.at, { method: 'satterthwaite', free: [], interior: [] });
    const rows = metafor.b.map((_, k) => contrast(inference, [[k, 1]]));
    expect(
      largestRelativeGap(
        rows.map((r) => r.difference),
        metafor.b,
      ),
    ).toBeLessThan(1e-7);
    expect(
      largestRelativeGap(
        rows.map((r) => r.se),
        metafor.se,
      ),
    ).toBeLessThan(1e-6);
  });

  it('2000 runs of 40 setups: all 780 differences with their Satterthwaite degrees of freedom', () => {
    interface Lmer {
      REMLdeviance: number;
      varcomp: { grp: string; vcov: number }[];
      pairs: { i: number; j: number; est: number; se: number; df: number }[];
    }
    const wanted = readResult<Lmer>('synth2k_lmer');
    const f = fitted(readSynthetic('synth2k', false), all);
    const of = (grp: string) => wanted.varcomp.find((v) => v.grp === grp)?.vcov as number;
    // lme4's own optimiser leaves the components good to 6 to 7 digits.
    expect(
      largestRelativeGap([f.car, f.session, f.residual], [of('tester'), of('session'), of('Residual')]),
    ).toBeLessThan(1e-6);
    expect(f.fit.at.deviance).toBeLessThanOrEqual(wanted.REMLdeviance + 1e-9);
    const inference = infer(f.problem, f.fit.at, {
      method: 'satterthwaite',
      free: ['car', 'session', 'residual'],
      interior: f.fit.interior,
    });
    const rows = wanted.pairs.map((pair) =>
      contrast(inference, [
        [pair.i - 1, 1],
        [pair.j - 1, -1],
      ]),
    );
    wanted.pairs.forEach((pair, i) => {
      expect(Math.abs((rows[i]?.difference as number) - pair.est)).toBeLessThan(1e-7);
    });
    expect(
      largestRelativeGap(
        rows.map((r) => r.se),
        wanted.pairs.map((p) => p.se),
      ),
    ).toBeLessThan(1e-6);
    expect(
      largestRelativeGap(
        rows.map((r) => r.df),
        wanted.pairs.map((p) => p.df),
      ),
    ).toBeLessThan(1e-4);
  });
});

describe('three nested levels against R (lme4 + pbkrtest)', { timeout: 30_000 }, () => {
  interface ThreeLevel {
    components: Record<'car' | 'carLoop' | 'session' | 'residual', number>;
    criterion: number;
    contrasts: { a: string; b: string; se: number; df: number; difference: number }[];
  }
  // The file's source: components polished by Newton steps on lme4's criterion, standard errors and degrees of
  // freedom by pbkrtest (Kenward–Roger).
  const wanted = readResult<ThreeLevel>('threelevel_lmer_KR');
  const rows = readTable('threelevel').map((row) => ({
    setup: row.setup as string,
    car: row.car as string,
    loop: row.loop as string,
    session: row.session as string,
    z: Math.log(Number(row.value)),
    u: 0,
  }));
  const fit = fitGroup(rows, { draws: 500 });

  it('components to 2e-6 and criterion to 1e-8', () => {
    for (const name of ['car', 'carLoop', 'session', 'residual'] as const) {
      expect(Math.abs(fit.components[name] / wanted.components[name] - 1)).toBeLessThan(2e-6);
      expect(fit.origins[name]).toBe('own');
    }
    expect(Math.abs((fit.remlCriterion as number) - wanted.criterion)).toBeLessThan(1e-8);
  });

  it('all 15 standard errors to 1e-6 and degrees of freedom to 1e-3', () => {
    expect(fit.dfMethod).toBe('kenward-roger');
    expect(wanted.contrasts).toHaveLength(15);
    for (const pair of wanted.contrasts) {
      const found = fit.contrasts.find((c) => c.a === pair.a && c.b === pair.b);
      expect(Math.abs((found?.se as number) / pair.se - 1)).toBeLessThan(1e-6);
      expect(Math.abs((found?.df as number) / pair.df - 1)).toBeLessThan(1e-3);
      expect(Math.abs((found?.difference as number) - pair.difference)).toBeLessThan(1e-8);
    }
  });
});

describe('the optimiser', { timeout: 30_000 }, () => {
  const shape = {
    cars: 6,
    sessions: 4,
    loops: 2,
    sdCarLoop: 0.02,
    setups: 3,
    runs: 3,
    sdCar: 0.03,
    sdSession: 0.02,
    sdRun: 0.015,
    u: 0,
  };

  it('finds a minimum that no nearby point beats, whatever the seed', () => {
    for (let seed = 1; seed <= 25; seed++) {
      const runs = simulateRuns({ ...shape, u: seed % 2 === 0 ? 0.01 : 0 }, seed);
      const f = fitted(runs, nested);
      expect(f.fit.converged).toBe(true);
      const dense = denseFit(runs, f);
      expect(Math.abs(dense.deviance - f.fit.at.deviance)).toBeLessThan(1e-7);
      for (const name of ['car', 'carLoop', 'session', 'residual'] as const) {
        for (const factor of [0.9, 1.1]) {
          const nearby = {
            ...f.fit.at.variances,
            [name]: f.fit.at.variances[name] * factor + 1e-4 * (factor - 0.9),
          };
          expect(evaluate(f.problem, nearby, false).deviance).toBeGreaterThanOrEqual(
            f.fit.at.deviance - 1e-9,
          );
        }
      }
    }
  });

  it('comes to the same place from a warm start in fewer evaluations', () => {
    const runs = simulateRuns(shape, 3);
    const problem = prepare(layOutRuns(runs), null, true);
    const cold = fitReml(problem, nested);
    const v = cold.at.variances;
    const warm = fitReml(problem, nested, { start: rescale(v, problem.scale) });
    expect(Math.abs(warm.at.deviance - cold.at.deviance)).toBeLessThan(1e-9);
    expect(warm.evaluations).toBeLessThan(cold.evaluations / 2);
  });
});
