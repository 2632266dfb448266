import { fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join, resolve } from 'node:path';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { DRAWN_SCOPES, type DrawnScope } from '@/prisma/demo/world/priorDraws';
import { BANDS, ratioOf, type ScopeRatio } from './budgetCoverage';
import { coverageOf, isWithin, type Share, shareOf, type Verdict, YOUNG_TARGET } from './coverageCount';
import { type CoverageRow, isMet, printRows, rowsOf } from './coverageTable';
import type { Asked, CoverageTasks, TaskKind } from './coverageTask';
import { DEMO_SEED, type Redrawing, rowsByClass, youngClasses } from './demoCoverage';
import { MADE_GROUPS } from './madeGroups';
import { YOUNG_LAYOUTS } from './youngCoverage';

/** Synthetic worlds a layout, unless a number is given; all other counts keep their proportion to it. */
const WORLDS = 1000;
/** Synthetic worlds that one process takes at a time. */
const CHUNK = 200;
const WHOLE_CHUNK = 20;
/** A truth this many times as far off as stated has to be noticed. */
const TEETH = 1.5;
/** Spread of a car from loop to loop, and of a loop of its own, in worlds that have them; own choice. */
const ON_LOOPS: Redrawing = { carLoopSd: 0.01, loopSd: 0.003 };
const SINGLE_RUNS = [0.93, 0.97] as const;

/**
 * Do the intervals keep their promise? Worlds are drawn from a known truth, brought through the registry's own line,
 * and counted, in as many processes as there are processors (COVERAGE_PROCESSES says otherwise). With
 * COVERAGE_FILE=path the table is kept as data, with COVERAGE_PARTS=folder each piece as it is done.
 */
export async function bench(): Promise<void> {
  const given = process.argv.slice(2).find((argument) => /^\d+$/.test(argument));
  const worlds = given === undefined ? WORLDS : Number(given);
  const share = (of: number) => Math.max(2, Math.round((of * worlds) / WORLDS));
  const [whole, many] = [seedsOf(share(20)), seedsOf(share(200))];

  // all asked for at once, printed in order as they come
  const [plain, onLoops] = [redrawn(worlds, {}), redrawn(worlds, ON_LOOPS)];
  const scopes = DRAWN_SCOPES.map((scope) =>
    // all runs of a world share the one draw of the method: that takes many more of them
    scopeRatio(scope, scope === 'method' ? many : whole, 1),
  );
  const runs = runCoverage(whole, 1);
  const young = YOUNG_LAYOUTS.map((_, layout) => done({ kind: 'young', layout, registries: 4 * worlds }));
  const made = MADE_GROUPS.map((_, group) => done({ kind: 'made', group, groups: worlds }));
  const fromReadings = Promise.all(
    seedPieces(seedsOf(share(20))).map((seeds) => done({ kind: 'whole', seeds })),
  );
  const farRuns = runCoverage(whole, TEETH);
  const farScope = scopeRatio('run', whole, TEETH);
  const far = redrawn(share(200), { stretch: TEETH });
  const borrowing = youngClasses(rowsByClass(generateDemoWorld({ seed: DEMO_SEED })));
  const layoutRows = (group: string, pieces: readonly Judged[]) => rowsByLayout(group, pieces, borrowing);

  console.log(
    `rms(error/u) of single runs by scope, ${whole.length} whole worlds whose truth draws it from the priors`,
  );
  const ratios = await Promise.all(scopes);
  for (const ratio of ratios) printRatio(ratio);
  const rows: CoverageRow[] = [];
  const add = (more: CoverageRow[]) => {
    printRows(more);
    rows.push(...more);
  };
  add([singleRuns('runs', await runs)]);
  console.log(`the demo world’s classes drawn anew, ${worlds} worlds each`);
  add(layoutRows('demo', await plain));
  console.log(`the same, cars and loops differing on loops`);
  add(layoutRows('loops', await onLoops));
  console.log(`young registries, ${4 * worlds} each`);
  for (const [i, { name, pair }] of YOUNG_LAYOUTS.entries()) {
    const found = await (young[i] as Promise<Share>);
    add([
      {
        group: 'young',
        layout: name,
        kind: pair === null ? 'means' : 'pair',
        target: YOUNG_TARGET,
        ...found,
      },
    ]);
  }
  console.log(`groups of one model made for the purpose, ${worlds} each`);
  for (const [i, coverage] of (await Promise.all(made)).entries()) {
    add(rowsOf('made', MADE_GROUPS[i]?.name ?? '', coverage));
  }
  console.log(`${share(20)} demo worlds generated whole, from weather and readings on (a look, not a proof)`);
  printRows(layoutRows('whole', await fromReadings));

  console.log(`a truth ${TEETH} times as far off as stated`);
  const [farRun, farRatio, farRows] = [await farRuns, await farScope, layoutRows('far', await far)];
  printRows([singleRuns('far', farRun), ...farRows]);
  printRatio(farRatio);
  const bites =
    farRun.share < SINGLE_RUNS[0] &&
    farRatio.ratio > BANDS.run[1] &&
    farRows.some((row) => row.kind === 'across' && row.share < row.target[0]);
  const missed =
    ratios.filter(({ scope, ratio }) => !isWithin(ratio, BANDS[scope])).length +
    rows.filter((row) => !isMet(row)).length;
  const within = missed === 0 ? 'all within what is wanted' : `${missed} outside of what is wanted`;
  console.log(
    `  ${within}; the check ${bites ? 'notices' : 'DOES NOT NOTICE'} a truth ${TEETH} times as far off`,
  );

  const file = process.env.COVERAGE_FILE;
  if (file === undefined) return;
  const command = `npm run bench -- coverage${given === undefined ? '' : ` ${given}`}`;
  const about = { on: new Date().toISOString().slice(0, 10), command, methodVersion: METHOD_VERSION };
  const scopeRows = ratios.map((ratio) => ({ ...ratio, band: BANDS[ratio.scope] }));
  writeFileSync(file, `${JSON.stringify({ ...about, bites, scopes: scopeRows, rows }, null, 2)}\n`);
}

const seedsOf = (count: number) => Array.from({ length: count }, (_, i) => 500 + i);

/** Whole worlds take seconds each: few to a piece. */
const seedPieces = (seeds: readonly number[]) =>
  Array.from({ length: Math.ceil(seeds.length / WHOLE_CHUNK) }, (_, i) =>
    seeds.slice(i * WHOLE_CHUNK, (i + 1) * WHOLE_CHUNK),
  );

async function scopeRatio(scope: DrawnScope, seeds: readonly number[], stretch: number): Promise<ScopeRatio> {
  const pieces = seedPieces(seeds).map((some) => done({ kind: 'scope', scope, seeds: some, stretch }));
  return ratioOf(scope, (await Promise.all(pieces)).flat());
}

async function runCoverage(seeds: readonly number[], stretch: number): Promise<Share> {
  const pieces = seedPieces(seeds).map((some) => done({ kind: 'runs', seeds: some, stretch }));
  return shareOf((await Promise.all(pieces)).flat()) as Share;
}

const singleRuns = (group: string, share: Share): CoverageRow => ({
  group,
  layout: 'single runs of whole worlds',
  kind: 'run',
  target: SINGLE_RUNS,
  ...share,
});

function printRatio({ scope, ratio, standardError }: ScopeRatio): void {
  const [low, high] = BANDS[scope];
  const outside = isWithin(ratio, [low, high]) ? '' : `  OUTSIDE ${low}–${high}`;
  console.log(`    ${scope}: ${ratio.toFixed(3)} ± ${standardError.toFixed(3)}${outside}`);
}

type Judged = [string, Verdict[]][];

/** Synthetic worlds in pieces, each with a seed of its own. */
function redrawn(worlds: number, how: Redrawing): Promise<Judged[]> {
  const pieces = Array.from({ length: Math.ceil(worlds / CHUNK) }, (_, i) =>
    done({ kind: 'redrawn', worlds: Math.min(CHUNK, worlds - i * CHUNK), seed: 2000 + i, how }),
  );
  return Promise.all(pieces);
}

/** @param borrowing classes that are wanted to hold as young ones do */
function rowsByLayout(
  group: string,
  pieces: readonly Judged[],
  borrowing: ReadonlySet<string>,
): CoverageRow[] {
  const verdicts = new Map<string, Verdict[]>();
  for (const [key, some] of pieces.flat()) verdicts.set(key, [...(verdicts.get(key) ?? []), ...some]);
  return [...verdicts].flatMap(([key, all]) => rowsOf(group, key, coverageOf(all), borrowing.has(key)));
}

/** Pieces that are done, so that a bench that was stopped goes on where it was; for the same code only. */
const parts = process.env.COVERAGE_PARTS;

function partFile(asked: object): string {
  const key = createHash('sha256').update(JSON.stringify(asked)).digest('hex').slice(0, 16);
  return join(parts as string, `${key}.json`);
}

function keptPart<K extends TaskKind>(asked: Asked<K>): CoverageTasks[K]['result'] | undefined {
  if (parts === undefined || !existsSync(partFile(asked))) return undefined;
  return JSON.parse(readFileSync(partFile(asked), 'utf8')).result;
}

function keepPart<K extends TaskKind>(
  asked: Asked<K>,
  result: CoverageTasks[K]['result'],
): CoverageTasks[K]['result'] {
  if (parts !== undefined) {
    mkdirSync(parts, { recursive: true });
    writeFileSync(partFile(asked), JSON.stringify({ asked, result }));
  }
  return result;
}

const processes = Number(process.env.COVERAGE_PROCESSES ?? availableParallelism());
const waiting: (() => void)[] = [];
let busy = 0;

/** Has a piece done in a process of its own, as soon as one is free; first come, first served. */
async function done<K extends TaskKind>(asked: Asked<K>): Promise<CoverageTasks[K]['result']> {
  if (busy >= processes) await new Promise<void>((free) => waiting.push(free));
  busy++;
  try {
    const known = keptPart(asked);
    return known === undefined ? keepPart(asked, await inProcess(asked)) : known;
  } finally {
    busy--;
    waiting.shift()?.();
  }
}

function inProcess<K extends TaskKind>(asked: Asked<K>): Promise<CoverageTasks[K]['result']> {
  return new Promise((found, failed) => {
    const child = fork(resolve(import.meta.dirname, 'coverageTask.ts'));
    child.once('message', found);
    child.once('error', failed);
    child.once('exit', (code) => failed(new Error(`${asked.kind} ended with ${code}`)));
    child.send(asked);
  });
}
