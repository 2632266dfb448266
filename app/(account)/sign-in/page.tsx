import type { Metadata } from 'next';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { offeredProviders } from '@/app/visitor/externalProviders';
import { localPath } from './localPath';
import { SignInForm } from './SignInForm';

export const metadata: Metadata = { title: 'Sign in' };
export const dynamic = 'force-dynamic';

interface SignInPageProps {
  searchParams: Promise<{ callbackUrl?: string; error?: string }>;
}

export default async function SignInPage({ searchParams }: SignInPageProps) {
  const { callbackUrl, error } = await searchParams;
  return (
    <>
      <PageHeader title="Sign in" />
      <SignInForm callbackUrl={localPath(callbackUrl)} initialError={error} providers={offeredProviders()} />
      <p className="mt-8 text-sm">
        <Link className="link" href="/forgotten-password">
          Forgotten your password?
        </Link>{' '}
        No account yet?{' '}
        <Link className="link" href="/sign-up">
          Open one
        </Link>
        .
      </p>
    </>
  );
}
