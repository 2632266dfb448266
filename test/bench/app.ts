import { type BuiltApp, onDemoWorld, stop } from './builtApp';

const COLD_STARTS = 5;
const REQUESTS = 200;

/**
 * The built app on the demo world: how long a cold start takes (process to first healthy answer, database included),
 * and how long the server takes for a ranking page, one request after the other.
 */
export function bench(): Promise<void> {
  return onDemoWorld(measure);
}

async function measure({ address, start }: BuiltApp): Promise<void> {
  const startsMs: number[] = [];
  for (let i = 0; i < COLD_STARTS; i += 1) {
    const from = performance.now();
    const app = await start();
    startsMs.push(performance.now() - from);
    await stop(app);
  }
  report('cold start of the built app', 'ms', startsMs);
  const app = await start();
  for (const path of ['/rankings', '/rankings?class=kmh-90&show=raw', '/api/health']) {
    report(`server time of ${path}`, 'ms', await requestTimesMs(`${address}${path}`));
  }
  await stop(app);
}

/** Whole answers read, on one connection, after a warm-up. */
export async function requestTimesMs(url: string): Promise<number[]> {
  const times: number[] = [];
  for (let i = 0; i < REQUESTS + 20; i += 1) {
    const from = performance.now();
    await (await fetch(url)).arrayBuffer();
    if (i >= 20) times.push(performance.now() - from);
  }
  return times;
}

export function report(what: string, unit: string, values: number[]): void {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number) =>
    (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0).toFixed(0);
  console.log(
    `${what}: median ${at(0.5)}, 95th ${at(0.95)}, worst ${at(1)} ${unit} (${values.length} times)`,
  );
}
