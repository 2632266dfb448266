import type { Metadata } from 'next';
import { FreshNotice } from '@/app/account/FreshNotice';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { idleLimitWords } from '@/lib/access/signInLimits';
import { appealUntil } from '@/lib/access/suspension';
import { readNoticeMail } from '@/lib/registry/accounts/noticeMail';
import { readAddress } from '@/lib/registry/accounts/proveAddress';
import { readPublishedDays } from '@/lib/registry/accounts/publishedDays';
import { readSecondFactor } from '@/lib/registry/accounts/secondFactor';
import { readSignIns } from '@/lib/registry/accounts/signIns';
import { lacksSteward } from '@/lib/registry/accounts/stewardCode';
import { readInterests } from '@/lib/registry/review/interests';
import { atLeast } from '@/lib/run/roles';
import { onlyWorldOf } from '@/lib/run/world';
import { Address } from './Address';
import { EraseForm } from './EraseForm';
import { Interests } from './Interests';
import { LettersForm } from './LettersForm';
import { PasswordForm } from './PasswordForm';
import { PublishedDaysForm } from './PublishedDaysForm';
import { SecondFactor } from './SecondFactor';
import { SignIns } from './SignIns';
import { StewardForm } from './StewardForm';
import { SuspensionAppeal } from './SuspensionAppeal';

export const metadata: Metadata = { title: 'Account' };
export const dynamic = 'force-dynamic';

export default async function AccountPage() {
  const actor = await requireSignedIn('/account');
  const canBecomeSteward = onlyWorldOf(actor) === undefined && (await lacksSteward(registry()));
  const address = await readAddress(registry(), actor);
  return (
    <>
      <PageHeader title="Account" />
      {actor.heldBack === undefined ? null : (
        <Notice
          kind="caution"
          title={`Set up a second factor: you are ${actor.heldBack} again once it is in use.`}
        >
          This registry asks one of all who decide over others’ runs. It takes an app on your phone and a
          minute, below.
        </Notice>
      )}
      {actor.suspension === undefined ||
      actor.suspension.isAppealed ||
      registry().now() > appealUntil(actor.suspension) ? null : (
        <Section id="appeal" title="Appeal against the suspension">
          <SuspensionAppeal />
        </Section>
      )}
      <FreshNotice back="/account" />
      <DefinitionList
        items={[
          { term: 'Name', description: actor.displayName },
          { term: 'Role', description: actor.role },
        ]}
      />
      {canBecomeSteward ? (
        <Section
          id="steward"
          title="Steward"
          note="This registry has none yet. The steward gives roles to the others and keeps the protocol."
        >
          <StewardForm />
        </Section>
      ) : null}
      {address.email === undefined ? null : (
        <Section
          id="address"
          title="E-mail address"
          note="Your name at sign-in, and where a link to a new password is sent. It is shown to nobody but the stewards."
        >
          <Address email={address.email} isProved={address.isProved} />
        </Section>
      )}
      <Section
        id="letters"
        title="Letters"
        note="Your notices are always on their page. By e-mail you get them if you choose so; what you have read there by then is not sent."
      >
        <LettersForm view={await readNoticeMail(registry(), actor)} />
      </Section>
      <Section
        id="published-days"
        title="Days of your runs"
        note="What readers see of when you drove, of all your runs, those from before too. It changes no number."
      >
        <PublishedDaysForm chosen={await readPublishedDays(registry(), actor)} />
      </Section>
      <Section id="password" title="Password">
        <PasswordForm />
      </Section>
      <Section
        id="second-factor"
        title="Second factor"
        note="A code from an app on your phone, asked for after the password. Signing in through a provider leaves it to the provider."
      >
        <SecondFactor
          view={await readSecondFactor(registry(), actor)}
          isAsked={atLeast(actor.heldBack ?? actor.role, 'reviewer')}
        />
      </Section>
      {atLeast(actor.role, 'reviewer') ? (
        <Section
          id="interests"
          title="Declared interests"
          note="You can neither claim nor decide on runs that touch one. What was declared and ended stays in the log."
        >
          <Interests rows={await readInterests(registry(), actor)} />
        </Section>
      ) : null}
      <Section
        id="sign-ins"
        title="Signed-in places"
        note={`One is over after ${idleLimitWords(actor.role)} without use. End one that you do not know, and change the password.`}
      >
        <SignIns rows={await readSignIns(registry(), actor)} />
      </Section>
      <Section
        id="tokens"
        title="Tokens for programs"
        note="A program of yours can write drafts and send them in by one, without your password."
      >
        <Link className="link inline-flex min-h-11 items-center" href="/account/tokens">
          See them, make or end one
        </Link>
      </Section>
      <Section
        id="data"
        title="Your data"
        note="All that is kept of your account: tables as JSON, your photos and recordings, in one archive."
      >
        <a className="link inline-flex min-h-11 items-center" href="/account/data.zip" download>
          Download your data
        </a>
        <EraseForm />
      </Section>
    </>
  );
}
