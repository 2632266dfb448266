import type { Metadata } from 'next';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { type AskSubjects, askSubjects, readAskForm } from '@/lib/registry/requests/askForTest';
import { idOrNothing, readView } from '../../../(tester)/readView';
import { one, type SearchParams } from '../../rankings/query';
import { AskForm } from '../RequestForms';
import { RequestItem } from '../RequestItem';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Ask for a test' };

const CRUMBS = [{ label: 'What to drive next', href: '/requests' }, { label: 'Ask for a test' }];

/** First of which car and how fast, then what against what: each step has an address, so that it works without scripts. */
export default async function AskPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const query = await searchParams;
  const actor = await requireSignedIn('/requests/new');
  const [modelId, classKey] = [idOrNothing(query.model), one(query, 'class')];
  const lead =
    'Ask testers to hold two things against each other. Others can back it, and all of you are told when somebody drives it.';
  if (modelId === undefined || classKey === undefined) {
    const subjects = await readView(askSubjects(registry(), actor));
    return (
      <>
        <PageHeader title="Ask for a test" lead={lead} breadcrumbs={CRUMBS} />
        <ChooseSubjects subjects={subjects} classKey={classKey} />
      </>
    );
  }
  const pair = one(query, 'pair') ?? '';
  const view = await readView(readAskForm(registry(), actor, { modelId, classKey, pair }));
  return (
    <>
      <PageHeader
        title="Ask for a test"
        lead={`Of the ${view.model}, at ${view.classLabel}.`}
        breadcrumbs={CRUMBS}
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      {view.alike.length > 0 ? (
        <>
          <Notice
            kind="info"
            title={view.isThere ? 'This is asked for already.' : 'Something like it is asked for already.'}
          >
            <p>A further vote for one of them says more than another request beside it.</p>
          </Notice>
          <ul className="mb-8 space-y-6">
            {view.alike.map((request) => (
              <li key={request.id}>
                <RequestItem request={request} />
              </li>
            ))}
          </ul>
        </>
      ) : null}
      {view.pairs.length === 0 ? (
        <EmptyState title="There is nothing to compare yet.">
          A test holds two levels of one thing against each other, and testers have named none of this model.
        </EmptyState>
      ) : (
        <AskForm
          modelId={modelId}
          classKey={classKey}
          pairs={view.pairs}
          pair={pair}
          question={one(query, 'question') ?? ''}
          hasAlike={view.alike.length > 0 && !view.isThere}
        />
      )}
    </>
  );
}

function ChooseSubjects({ subjects, classKey }: { subjects: AskSubjects; classKey: string | undefined }) {
  if (subjects.models.length === 0) {
    return <EmptyState title="No model is known here yet.">Testers add them with their cars.</EmptyState>;
  }
  return (
    <form action="/requests/new" className="max-w-xl space-y-6" aria-label="Of which car and how fast">
      <ChoiceField
        name="model"
        label="Car"
        options={subjects.models.map(({ id, words }) => ({ value: id, label: words }))}
        defaultValue={subjects.models[0]?.id ?? ''}
      />
      <ChoiceField
        name="class"
        label="Speed"
        options={subjects.classes.map(({ key, label }) => ({ value: key, label }))}
        defaultValue={classKey ?? 'kmh-110'}
      />
      <SubmitButton>Go on</SubmitButton>
    </form>
  );
}
