import type { Letter } from '@/lib/mail/letter';
import { outboxIn } from '@/lib/mail/outboxFolder';
import { startPosting } from '@/lib/mail/postLetters';
import { sendBySmtp, smtpFromEnvironment } from '@/lib/mail/smtp';
import { isLetterWanted } from '@/lib/registry/accounts/mailNotices';
import { startSealing } from '@/lib/registry/audit/sealTrail';
import { openRegistry } from '@/lib/registry/openRegistry';
import { startWorker } from '@/lib/registry/runJobs';
import { closePrisma } from '@/lib/store/client';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { boundErrors } from '../log/boundErrors';

// The worker process: does what pages leave to the background, until told to end or left by its parent.
boundErrors();
const registry = openRegistry();
const report = (error: unknown) => console.error(error);
const worker = startWorker(registry, report);
const sealing = startSealing(registry, dataFolderFromEnvironment(), report);
const smtp = smtpFromEnvironment();
const send = smtp && ((letter: Letter) => sendBySmtp(smtp, letter));
const isWanted = (letter: Letter) => isLetterWanted(registry, letter);
const posting = startPosting(outboxIn(dataFolderFromEnvironment()), { send, isWanted }, report);
let isEnding = false;

async function end(): Promise<void> {
  if (isEnding) return;
  isEnding = true;
  try {
    await worker.stop();
    await sealing.stop();
    await posting.stop();
    await closePrisma();
  } catch (error) {
    console.error(error);
  }
  process.exit();
}

for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, end);
process.once('disconnect', end);
