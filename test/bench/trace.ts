import { parseGpx } from '@/lib/capture/trace/gpx';
import { reduceTrace } from '@/lib/capture/trace/reduceTrace';
import { coastDrive, drive, toGpx } from '../lib/capture/trace/syntheticDrive';

const targetMs = 1000;

/** Reading and reducing a GPX of 50 000 points; the target is one second. */
export async function bench(): Promise<void> {
  const plan = { ...coastDrive, stepS: drive(coastDrive).durationS / 50_000 };
  const bytes = new TextEncoder().encode(toGpx(drive(plan).points));
  const rounds: { parseMs: number; reduceMs: number }[] = [];
  const cpuBefore = process.cpuUsage();
  let points = 0;
  for (let round = 0; round < 5; round++) {
    const began = performance.now();
    const parsed = parseGpx(bytes);
    const between = performance.now();
    if (!parsed.ok) throw new Error(parsed.message);
    const reduced = reduceTrace(parsed.points);
    if (!reduced.ok) throw new Error(reduced.message);
    rounds.push({ parseMs: between - began, reduceMs: performance.now() - between });
    points = parsed.points.length;
  }
  const cpuMs = process.cpuUsage(cpuBefore).user / 1000 / rounds.length;
  rounds.sort((a, b) => a.parseMs + a.reduceMs - b.parseMs - b.reduceMs);
  const median = rounds[2] as (typeof rounds)[number];
  const worst = rounds[4] as (typeof rounds)[number];
  const total = median.parseMs + median.reduceMs;
  console.log(
    `trace: ${points} points, ${(bytes.length / 1e6).toFixed(1)} MB: parse ${median.parseMs.toFixed(0)} ms + reduce ` +
      `${median.reduceMs.toFixed(0)} ms = ${total.toFixed(0)} ms (median of 5; worst ` +
      `${(worst.parseMs + worst.reduceMs).toFixed(0)} ms; ` +
      `${cpuMs.toFixed(0)} ms of processor time each; target ${targetMs} ms: ${total < targetMs ? 'met' : 'MISSED'})`,
  );
}
