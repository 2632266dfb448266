import type { Metadata } from 'next';
import { Button } from '@/app/ui/Button';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { lacksSteward } from '@/lib/registry/accounts/stewardCode';
import { onlyWorldOf } from '@/lib/run/world';
import { endAllSessions } from './actions';
import { PasswordForm } from './PasswordForm';
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
        id="sessions"
        title="Signed-in places"
        note="Ends every session of this account, this one included."
      >
        <form action={endAllSessions}>
          <Button type="submit">Sign out everywhere</Button>
        </form>
      </Section>
    </>
  );
}
