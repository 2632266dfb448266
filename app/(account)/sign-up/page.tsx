import type { Metadata } from 'next';
import Link from 'next/link';
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
        lead="Reading needs none. With an account you record runs of your own cars; reviewers vet them before they count."
      />
      <SignUpForm asksForCode={await lacksSteward(registry())} />
      <p className="mt-8 max-w-xl text-sm">
        You have one already?{' '}
        <Link className="link" href="/sign-in">
          Sign in
        </Link>
        . What is kept about you stands under{' '}
        <Link className="link" href="/safety#privacy">
          safety and privacy
        </Link>
        .
      </p>
    </>
  );
}
