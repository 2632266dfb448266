import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { FreshNotice } from '@/app/account/FreshNotice';
import { DataTable } from '@/app/ui/DataTable';
import { EmptyState } from '@/app/ui/EmptyState';
import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { TextField } from '@/app/ui/forms/TextField';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readPeople } from '@/lib/registry/accounts/people';
import { areFactorsRequired } from '@/lib/registry/accounts/requireFactors';
import { dayWords } from '@/lib/run/localDate';
import { ROLES } from '@/lib/run/roles';
import { FactorRule, LostFactorForm } from './FactorForms';
import { RoleForm } from './RoleForm';
import { SuspensionForm } from './SuspensionForm';
import { VouchForm } from './VouchForm';

export const metadata: Metadata = { title: 'People' };
export const dynamic = 'force-dynamic';

export default async function PeoplePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const [text, role] = [one(params, 'q'), one(params, 'role')];
  const onlySuspended = one(params, 'suspended') === 'yes';
  const people = await forRole(
    readPeople(registry(), await requireSignedIn('/people'), {
      from: one(params, 'from'),
      text,
      role,
      onlySuspended,
    }),
  );
  return (
    <>
      <PageHeader
        title="People"
        meta={`${people.total} ${people.total === 1 ? 'account' : 'accounts'}`}
        lead="Roles take effect at the next request; the account has to sign in again. Who is suspended can read, ask and take their data out, but neither record nor review; what counts of theirs goes on counting unless it is held. Nothing is ranked on accounts alone that nobody vouches for, neither a steward nor an address that was proved."
      />
      <FreshNotice back="/people" />
      <Filters action="/people" label="Find somebody" resetHref="/people">
        <TextField name="q" label="Name or e-mail" defaultValue={text} maxLength={100} />
        <ChoiceField
          name="role"
          label="Role"
          kind="select"
          emptyLabel="All"
          defaultValue={role}
          options={ROLES.map((value) => ({ value, label: value }))}
        />
        <ChoiceField
          name="suspended"
          label="Suspended"
          kind="select"
          emptyLabel="All"
          defaultValue={onlySuspended ? 'yes' : ''}
          options={[{ value: 'yes', label: 'suspended only' }]}
        />
      </Filters>
      {people.rows.length === 0 ? <EmptyState title="Nobody meets this." /> : null}
      <DataTable
        caption="Accounts"
        captionHidden
        rows={people.rows}
        rowKey={(person) => person.id}
        columns={[
          {
            key: 'name',
            header: 'Name',
            rowHeader: true,
            cell: (person) => `${person.displayName}${person.world === 'demo' ? ' (demo)' : ''}`,
          },
          {
            key: 'email',
            header: 'E-mail',
            cell: ({ email, isAddressProved }) =>
              email === null ? 'erased' : `${email}${isAddressProved ? '' : ' (not confirmed)'}`,
          },
          {
            key: 'vouched',
            header: 'Vouched for',
            cell: ({ id, displayName, isVouched, isSelf }) =>
              isVouched || isSelf ? 'yes' : <VouchForm accountId={id} name={displayName} />,
          },
          {
            key: 'runs',
            header: 'Runs',
            align: 'end',
            cell: ({ runs, slug, displayName }) =>
              runs === 0 ? (
                runs
              ) : (
                <Link className="link" href={`/hold-and-retract?tester=${slug}`}>
                  {runs}
                  <span className="sr-only"> runs of {displayName}, to hold or retract</span>
                </Link>
              ),
          },
          { key: 'decisions', header: 'Decisions', align: 'end', cell: (person) => person.decisions },
          {
            key: 'factor',
            header: 'Second factor',
            cell: ({ id, displayName, hasSecondFactor, isSelf }) =>
              hasSecondFactor && !isSelf ? (
                <LostFactorForm accountId={id} name={displayName} />
              ) : hasSecondFactor ? (
                'in use'
              ) : (
                'none'
              ),
          },
          {
            key: 'role',
            header: 'Role',
            cell: (person) =>
              person.isSelf ? (
                `${person.role} (you)`
              ) : (
                <RoleForm accountId={person.id} name={person.displayName} role={person.role} />
              ),
          },
          {
            key: 'suspended',
            header: 'Suspended',
            cell: ({ id, displayName, suspension, isSelf, isErased }) =>
              isSelf || isErased ? (
                'no'
              ) : (
                <SuspensionForm
                  accountId={id}
                  name={displayName}
                  suspension={
                    suspension && { ...suspension, since: dayWords(suspension.placedAt.slice(0, 10)) }
                  }
                />
              ),
          },
        ]}
      />
      <KeysetPages
        {...people}
        label="Pages of accounts"
        hrefFor={(from) => hrefWith('/people', params, { from })}
      />
      <Section id="factor-rule" title="Second factor">
        <FactorRule areRequired={await areFactorsRequired(registry())} />
      </Section>
    </>
  );
}
