import { recordRefusal } from '@/lib/registry/audit/recordAct';
import { NotAllowed } from '@/lib/run/errors';
import { registry } from './registry';

/** Has the audit log say what was refused; whatever else went wrong is no refusal. */
export async function noteRefusal(error: unknown): Promise<void> {
  if (error instanceof NotAllowed) await recordRefusal(registry(), error);
}
