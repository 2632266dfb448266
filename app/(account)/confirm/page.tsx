import type { Metadata } from 'next';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { readProof } from '@/lib/registry/accounts/proveSelf';
import { localPath } from '../sign-in/localPath';
import { ConfirmSelfForm } from './ConfirmSelfForm';

export const metadata: Metadata = { title: 'Confirm that it is you' };
export const dynamic = 'force-dynamic';

export default async function ConfirmPage({
  searchParams,
}: {
  searchParams: Promise<{ back?: string | string[] }>;
}) {
  const asked = (await searchParams).back;
  const back = localPath(typeof asked === 'string' ? asked : undefined, '/account');
  const actor = await requireSignedIn(`/confirm?back=${encodeURIComponent(back)}`);
  const { hasPassword, asksForCode } = await readProof(registry(), actor);
  return (
    <>
      <PageHeader
        title="Confirm that it is you"
        lead="Some changes reach far: roles, the protocol, your address. Before one, you prove that it is you and not somebody at your unlocked screen. It then holds for twenty minutes, on this device."
      />
      {hasPassword ? (
        <ConfirmSelfForm back={back} asksForCode={asksForCode} />
      ) : (
        <p>
          <LinkButton href={`/sign-in?callbackUrl=${encodeURIComponent(back)}`}>
            Sign in again through your provider
          </LinkButton>
        </p>
      )}
    </>
  );
}
