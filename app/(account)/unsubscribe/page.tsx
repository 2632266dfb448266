import type { Metadata } from 'next';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { registry } from '@/app/visitor/registry';
import { readUnsubscribe } from '@/lib/registry/accounts/noticeMail';
import { UnsubscribeForm } from './UnsubscribeForm';

export const metadata: Metadata = { title: 'End letters', referrer: 'no-referrer' };
export const dynamic = 'force-dynamic';

const WHAT = {
  each: 'Notices go to your address as they come. After this, none of them is sent any more.',
  weekly: 'A letter a week about your notices goes to your address. After this, none is sent any more.',
} as const;

/** A button, as programs that look through letters open links by themselves: opening this page ends nothing. */
export default async function UnsubscribePage({
  searchParams,
}: {
  searchParams: Promise<{ token?: string | string[] }>;
}) {
  const { token: given } = await searchParams;
  const token = typeof given === 'string' ? given : '';
  const found = await readUnsubscribe(registry(), { token });
  return (
    <>
      <PageHeader
        title="End letters"
        lead="The letter that brought you here told you of notices in this registry. The notices themselves stay on their page."
      />
      {found === undefined ? (
        <Notice kind="caution" title="This link does not work.">
          It is not whole, or more than a year old. The link of a newer letter works, and so does your{' '}
          <Link className="link" href="/account#letters">
            account page
          </Link>
          .
        </Notice>
      ) : found.choice === 'none' ? (
        <Notice kind="done" title="No letters are sent to you." />
      ) : (
        <UnsubscribeForm token={token} what={WHAT[found.choice]} />
      )}
      <p className="mt-8 text-sm text-ink-soft">
        What guards your account, such as a link to a new password, is still sent when it is asked for.
      </p>
    </>
  );
}
