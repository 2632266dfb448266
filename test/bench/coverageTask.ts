import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import type { DrawnScope } from '@/prisma/demo/world/priorDraws';
import { runTallies, scopeSquares } from './budgetCoverage';
import type { Coverage, Share, Tally, Verdict } from './coverageCount';
import { DEMO_SEED, judgeRedrawn, judgeRegenerated, type Redrawing } from './demoCoverage';
import { MADE_GROUPS, type MadeGroup, measureMade } from './madeGroups';
import { measureYoung, YOUNG_LAYOUTS, type YoungLayout } from './youngCoverage';

/** A piece of the coverage bench, small enough to be handed to a process of its own. */
export interface CoverageTasks {
  scope: { scope: DrawnScope; seeds: number[]; stretch: number; result: number[] };
  runs: { seeds: number[]; stretch: number; result: Tally[] };
  redrawn: { worlds: number; seed: number; how: Redrawing; result: [string, Verdict[]][] };
  whole: { seeds: number[]; result: [string, Verdict[]][] };
  young: { layout: number; registries: number; result: Share };
  made: { group: number; groups: number; result: Coverage };
}

export type TaskKind = keyof CoverageTasks;
export type Asked<K extends TaskKind> = { kind: K } & Omit<CoverageTasks[K], 'result'>;

const DOERS: { [K in TaskKind]: (asked: Asked<K>) => CoverageTasks[K]['result'] } = {
  scope: ({ scope, seeds, stretch }) => scopeSquares(scope, seeds, stretch),
  runs: ({ seeds, stretch }) => runTallies(seeds, stretch),
  redrawn: ({ worlds, seed, how }) => [
    ...judgeRedrawn(generateDemoWorld({ seed: DEMO_SEED }), worlds, seed, how),
  ],
  whole: ({ seeds }) => [...judgeRegenerated(seeds)],
  young: ({ layout, registries }) => measureYoung(YOUNG_LAYOUTS[layout] as YoungLayout, registries, 31),
  made: ({ group, groups }) => measureMade(MADE_GROUPS[group] as MadeGroup, groups, 1000 + group),
};

process.once('message', (asked: Asked<TaskKind>) => {
  const result = (DOERS[asked.kind] as (asked: Asked<TaskKind>) => unknown)(asked);
  process.send?.(result, () => process.exit(0));
});
