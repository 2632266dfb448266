import { Link } from '@/app/ui/Link';
import { isFresh } from '@/lib/access/fresh';
import { Notice } from '../ui/Notice';
import { signedIn } from '../visitor/actor';
import { registry } from '../visitor/registry';

/** On pages with something grave: who proved to be themselves long ago has to do so before. */
export async function FreshNotice({ back }: { back: string }) {
  const actor = await signedIn();
  if (actor === undefined || isFresh(actor, registry().now())) return null;
  return (
    <Notice kind="info" title="Confirm that it is you before you change something here.">
      You signed in a while ago.{' '}
      <Link className="link" href={`/confirm?back=${encodeURIComponent(back)}`}>
        Enter your password
      </Link>
      .
    </Notice>
  );
}
