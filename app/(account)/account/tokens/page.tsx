import type { Metadata } from 'next';
import { FreshNotice } from '@/app/account/FreshNotice';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { may } from '@/lib/access/permissions';
import { MOST_TOKENS, TOKEN_DAYS, TOKEN_SCOPES } from '@/lib/access/personalTokens';
import { readPersonalTokens } from '@/lib/registry/accounts/personalTokens';
import { TokenForm } from './TokenForm';
import { TokenTable } from './TokenTable';

export const metadata: Metadata = { title: 'Tokens for programs' };
export const dynamic = 'force-dynamic';

export default async function TokensPage() {
  const actor = await requireSignedIn('/account/tokens');
  return (
    <>
      <PageHeader
        title="Tokens for programs"
        lead="With a token a program of yours begins drafts, puts recordings and photos to them and sends them in, without your password."
        meta={
          <Link className="link" href="/data/api#own">
            What programs can do with one
          </Link>
        }
      />
      <FreshNotice back="/account/tokens" />
      <Section
        id="yours"
        title="Your tokens"
        note="A new password, or signing out everywhere, ends all of them. While an account is suspended they do nothing."
      >
        <TokenTable rows={await readPersonalTokens(registry(), actor)} />
      </Section>
      {may(actor, 'makeToken') ? (
        <Section
          id="make"
          title="Make one"
          note={`At most ${MOST_TOKENS} work at once. One for each program is best: each is then ended by itself.`}
        >
          <TokenForm
            scopes={TOKEN_SCOPES.map(({ key, label, hint }) => ({ value: key, label, hint }))}
            days={TOKEN_DAYS.map((days) => ({
              value: String(days),
              label: days === 365 ? 'a year' : `${days} days`,
            }))}
          />
        </Section>
      ) : null}
    </>
  );
}
