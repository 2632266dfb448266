import { Link } from '@/app/ui/Link';
import { suspendedWords } from '@/lib/access/suspension';
import { Notice } from '../ui/Notice';
import { signedIn } from '../visitor/actor';

/** On top of every page of one who is suspended: what would be missing there is not asked for in vain. */
export async function SuspendedNotice() {
  const suspension = (await signedIn())?.suspension;
  if (suspension === undefined) return null;
  return (
    <Notice kind="caution" title="Your account is suspended.">
      {suspendedWords(suspension)}{' '}
      <Link className="link" href="/account#appeal">
        Account page
      </Link>
    </Notice>
  );
}
