import { openRegistry } from '@/lib/registry/openRegistry';
import { startWorker } from '@/lib/registry/runJobs';
import { closePrisma } from '@/lib/store/client';
import { boundedReport } from './boundedReport';

// The worker process: does what pages leave to the background, until told to end or left by its parent.
const worker = startWorker(openRegistry(), boundedReport());
let isEnding = false;

async function end(): Promise<void> {
  if (isEnding) return;
  isEnding = true;
  try {
    await worker.stop();
    await closePrisma();
  } catch (error) {
    console.error(error);
  }
  process.exit();
}

for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, end);
process.once('disconnect', end);
