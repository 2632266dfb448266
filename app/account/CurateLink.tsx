import { Link } from '@/app/ui/Link';
import { signedIn } from '../visitor/actor';

/** At the foot of a page, for stewards. */
export async function CurateLink({ kind, of }: { kind: 'loop' | 'model' | 'car'; of: string }) {
  if ((await signedIn())?.role !== 'steward') return null;
  return (
    <p className="no-print mt-10 text-sm">
      <Link className="link inline-flex min-h-11 items-center" href={`/curate?kind=${kind}&key=${of}`}>
        Rename, merge or hide this {kind}
      </Link>
    </p>
  );
}
