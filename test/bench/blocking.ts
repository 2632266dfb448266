import { type Browser, chromium } from '@playwright/test';
import { chromiumPath } from '../helpers/chromium';
import { onDemoWorld, stop } from './builtApp';
import { placesOf } from './weight';

const VISITS = 5;
/** A phone of the lower middle: a quarter as fast as this machine. */
const SLOWER = 4;
/** What a task may take before it counts as in the way (W3C, Long Tasks). */
const UNNOTICED_MS = 50;

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
  const browser = await chromium.launch({
    executablePath: chromiumPath,
    args: ['--no-sandbox'],
  });
  for (const { name, path } of [{ name: 'plainest', path: '/safety' }, ...(await placesOf(address))]) {
    const visits: number[] = [];
    for (let i = 0; i < VISITS; i++) visits.push(await blockingMs(browser, address + path));
    visits.sort((a, b) => a - b);
    console.log(
      `${name} (${path.slice(0, 60)}): ${visits[Math.floor(VISITS / 2)]} ms (${visits[0]} to ${visits.at(-1)})`,
    );
  }
  await browser.close();
}

async function blockingMs(browser: Browser, address: string): Promise<number> {
  const context = await browser.newContext();
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  await page.addInitScript(() => {
    const tasks: number[] = [];
    Object.assign(globalThis, { longTasks: tasks });
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) tasks.push(duration);
    }).observe({ type: 'longtask', buffered: true });
  });
  await page.goto(address, { waitUntil: 'networkidle' });
  const tasks = await page.evaluate(() => (globalThis as unknown as { longTasks: number[] }).longTasks);
  await context.close();
  return Math.round(tasks.reduce((sum, task) => sum + Math.max(0, task - UNNOTICED_MS), 0));
}
