import type { Metadata } from 'next';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { NewPasswordForm } from './NewPasswordForm';

export const metadata: Metadata = { title: 'Choose a new password', referrer: 'no-referrer' };
export const dynamic = 'force-dynamic';

export default async function NewPasswordPage({
  searchParams,
}: {
  searchParams: Promise<{ token?: string | string[] }>;
}) {
  const { token } = await searchParams;
  return (
    <>
      <PageHeader
        title="Choose a new password"
        lead="Every place where you are signed in is signed out by it. A second factor stays."
      />
      <NewPasswordForm token={typeof token === 'string' ? token : ''} />
      <p className="mt-8 text-sm">
        The link is over?{' '}
        <Link className="link" href="/forgotten-password">
          Ask for another
        </Link>
        .
      </p>
    </>
  );
}
