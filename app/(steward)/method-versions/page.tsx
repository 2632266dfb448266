import type { Metadata } from 'next';
import { FreshNotice } from '@/app/account/FreshNotice';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readAdoptions } from '@/lib/registry/method/methodVersions';
import { Adoption } from './Adoption';

export const metadata: Metadata = { title: 'Method versions' };
export const dynamic = 'force-dynamic';

export default async function MethodVersionsPage() {
  const views = await forRole(readAdoptions(registry(), await requireSignedIn('/method-versions')));
  const display = await readerDisplay();
  return (
    <>
      <PageHeader
        title="Method versions"
        lead="What models have learned of their road load from their own runs may take the place of the priors. Adopting it is a new version of the method: every run of that world is computed again, and earlier results stay readable under their own version."
      />
      <p className="max-w-[46rem]">
        Which runs an adopted road load is used for, and what to mind, stands on the{' '}
        <Link className="link" href="/method#learned">
          method’s page
        </Link>
        , and so does{' '}
        <Link className="link" href="/method#versions">
          every version adopted so far
        </Link>
        .
      </p>
      <FreshNotice back="/method-versions" />
      {views.map((view) => (
        <Adoption key={view.world} view={view} display={display} />
      ))}
    </>
  );
}
