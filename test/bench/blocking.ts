import { setTimeout } from 'node:timers/promises';
import { z } from 'zod';
import { BareBrowser } from './bareBrowser';
import { onDemoWorld, stop } from './builtApp';
import { placesOf } from './weight';

const VISITS = 5;
/** A phone of the lower middle: a quarter as fast as this machine. */
const SLOWER = 4;
/** What a task may take before it counts as in the way (W3C, Long Tasks). */
const UNNOTICED_MS = 50;
/** A page is long quiet by then: requests, scripts and what follows on them end within two or three seconds. */
const SETTLED_MS = 8000;
/** The page that has least on it. */
const PLAINEST = '/safety';

/** Long tasks are kept by the browser until somebody asks for them (W3C, Long Tasks: buffered). */
const READ = `new Promise((resolve) => {
  const firstShownMs = performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? 0;
  new PerformanceObserver((list, observer) => {
    observer.disconnect();
    resolve({ firstShownMs, tasks: list.getEntries().map(({ startTime, duration }) => [startTime, duration]) });
  }).observe({ type: 'longtask', buffered: true });
  setTimeout(() => resolve({ firstShownMs, tasks: [] }), 500);
})`;

const contextSchema = z.object({ browserContextId: z.string() });
const targetSchema = z.object({ targetId: z.string() });
const sessionSchema = z.object({ sessionId: z.string() });
const watchedSchema = z.object({
  firstShownMs: z.number(),
  tasks: z.array(z.tuple([z.number(), z.number()])),
});
const evaluatedSchema = z.object({ result: z.object({ value: watchedSchema }) });

type Watched = z.infer<typeof watchedSchema>;

interface Visit {
  firstShownMs: number;
  /** Beyond 50 ms of each task, summed, from the request on. */
  allMs: number;
  /** The same from the moment that something is shown: the total blocking time as web.dev defines it. */
  shownMs: number;
}

/**
 * How long a first visit keeps the reader from doing anything: the part of each task beyond 50 ms, summed until the
 * page is quiet, with the processor slowed down fourfold; beside it the plainest page that the app has. The median of
 * five visits. Of an app that runs already with `-- blocking http://127.0.0.1:3000`.
 */
export async function bench(): Promise<void> {
  const given = process.argv.find((argument) => /^https?:/.test(argument));
  if (given !== undefined) return visit(given);
  await onDemoWorld(async ({ address, start }) => {
    const app = await start();
    await visit(address);
    await stop(app);
  });
}

async function visit(address: string): Promise<void> {
  const browser = new BareBrowser();
  // The browser's own first page is not a page's doing.
  await visitedOnce(browser, address + PLAINEST);
  for (const { name, path } of [{ name: 'plainest', path: PLAINEST }, ...(await placesOf(address))]) {
    const visits: Visit[] = [];
    for (let i = 0; i < VISITS; i++) visits.push(blockingOf(await visitedOnce(browser, address + path)));
    console.log(
      `${name} (${path.slice(0, 60)}): ${spread(visits.map(({ shownMs }) => shownMs))} once something is shown; ${spread(visits.map(({ allMs }) => allMs))} from the request on; first shown after ${spread(visits.map(({ firstShownMs }) => firstShownMs))}`,
    );
  }
  await browser.close();
}

/** The page's long tasks, in a browser context of its own: nothing of an earlier visit is kept. */
async function visitedOnce(browser: BareBrowser, url: string): Promise<Watched> {
  const { browserContextId } = contextSchema.parse(await browser.send('Target.createBrowserContext'));
  const { targetId } = targetSchema.parse(
    await browser.send('Target.createTarget', { url: 'about:blank', browserContextId }),
  );
  const { sessionId } = sessionSchema.parse(
    await browser.send('Target.attachToTarget', { targetId, flatten: true }),
  );
  await browser.send('Emulation.setCPUThrottlingRate', { rate: SLOWER }, sessionId);
  await browser.send('Page.navigate', { url }, sessionId);
  await setTimeout(SETTLED_MS);
  const { result } = evaluatedSchema.parse(
    await browser.send(
      'Runtime.evaluate',
      { expression: READ, returnByValue: true, awaitPromise: true },
      sessionId,
    ),
  );
  await browser.send('Target.disposeBrowserContext', { browserContextId });
  return result.value;
}

function blockingOf({ firstShownMs, tasks }: Watched): Visit {
  const beyond = (durationMs: number) => Math.max(0, durationMs - UNNOTICED_MS);
  return {
    firstShownMs,
    allMs: tasks.reduce((sum, [, durationMs]) => sum + beyond(durationMs), 0),
    // Of a task that something was shown during, what came after it.
    shownMs: tasks.reduce(
      (sum, [startMs, durationMs]) => sum + beyond(Math.min(durationMs, startMs + durationMs - firstShownMs)),
      0,
    ),
  };
}

function spread(values: readonly number[]): string {
  const sorted = values.toSorted((a, b) => a - b).map(Math.round);
  return `${sorted[Math.floor(sorted.length / 2)]} ms (${sorted[0]} to ${sorted.at(-1)})`;
}
