import type { Metadata } from 'next';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { registry } from '@/app/visitor/registry';
import { lacksSteward } from '@/lib/registry/accounts/stewardCode';
import { SignUpForm } from './SignUpForm';

export const metadata: Metadata = { title: 'Open an account' };
export const dynamic = 'force-dynamic';

export default async function SignUpPage() {
  return (
    <>
      <PageHeader
        title="Open an account"
        lead="You need none to read. With one you record runs of your own cars, which reviewers check before they count."
      />
      <SignUpForm asksForCode={await lacksSteward(registry())} />
      <p className="mt-8 max-w-xl text-sm">
        Already have one?{' '}
        <Link className="link" href="/sign-in">
          Sign in
        </Link>
        . What is kept about you is described under{' '}
        <Link className="link" href="/safety#privacy">
          safety and privacy
        </Link>
        .
      </p>
    </>
  );
}
