import type { JobHandler } from '@/lib/jobs/jobPlace';
import { serveJobs } from '@/lib/jobs/serveJobs';

/** A thread whose jobs do what a test asks of them: compute without a pause, throw, or end it. */
serveJobs(
  ({ report }) =>
    new Map<string, JobHandler>([
      [
        'compute',
        async (milliseconds) => {
          report({ done: 1, of: 2 });
          for (const until = performance.now() + Number(milliseconds); performance.now() < until; );
        },
      ],
      [
        'throw',
        async (reason) => {
          throw new Error(reason);
        },
      ],
      [
        'exit',
        async () => {
          process.exit(1);
        },
      ],
    ]),
  async () => {},
);
