import { setTimeout as delay } from 'node:timers/promises';
import type { RunningChild } from './childProcess';

const readyMs = 120_000;

/** Waits until the app answers that it is ready; false when it ended or took too long. */
export async function answers(address: string, web: RunningChild): Promise<boolean> {
  let hasEnded = false;
  const ended = web.ended.then(() => {
    hasEnded = true;
  });
  for (const until = performance.now() + readyMs; performance.now() < until && !hasEnded; ) {
    if (await answersOk(`${address}/api/health/ready`, 10_000)) return true;
    await Promise.race([ended, delay(50)]);
  }
  return false;
}

/** Whether an address answers with a success in time. */
export async function answersOk(address: string, timeoutMs: number): Promise<boolean> {
  try {
    // A connection kept open would hold up the server's end.
    const response = await fetch(address, {
      headers: { connection: 'close' },
      signal: AbortSignal.timeout(timeoutMs),
    });
    await response.body?.cancel();
    return response.ok;
  } catch {
    return false;
  }
}
