import type { Metadata } from 'next';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { idleLimitWords } from '@/lib/access/signInLimits';
import { readSecondFactor } from '@/lib/registry/accounts/secondFactor';
import { readSignIns } from '@/lib/registry/accounts/signIns';
import { lacksSteward } from '@/lib/registry/accounts/stewardCode';
import { readInterests } from '@/lib/registry/review/interests';
import { atLeast } from '@/lib/run/roles';
import { onlyWorldOf } from '@/lib/run/world';
import { Interests } from './Interests';
import { PasswordForm } from './PasswordForm';
import { SecondFactor } from './SecondFactor';
import { SignIns } from './SignIns';
import { StewardForm } from './StewardForm';

export const metadata: Metadata = { title: 'Account' };
export const dynamic = 'force-dynamic';

export default async function AccountPage() {
  const actor = await requireSignedIn('/account');
  const canBecomeSteward = onlyWorldOf(actor) === undefined && (await lacksSteward(registry()));
  return (
    <>
      <PageHeader title="Account" />
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
          isAsked={atLeast(actor.role, 'reviewer')}
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
    </>
  );
}
