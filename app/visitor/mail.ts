import { type Mail, mailFromEnvironment } from '@/lib/registry/accounts/mail';

let opened: Mail | undefined;

/** How this process writes to people. */
export function mail(): Mail {
  opened ??= mailFromEnvironment();
  return opened;
}
