import type { Metadata } from 'next';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { EmptyState } from '@/app/ui/EmptyState';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { newPlanForm, type PlanSubjects, planSubjects } from '@/lib/registry/studies/planForm';
import { idOrNothing, readView } from '../../readView';
import { PlanForm } from '../PlanForm';
import { PlanLead } from '../PlanLead';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Plan a study' };

const CRUMBS = [{ label: 'Studies', href: '/studies' }, { label: 'Plan a study' }];

/** First of what and where, then the plan: each step has an address, so that it works without scripts. */
export default async function NewStudyPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const query = await searchParams;
  const actor = await requireSignedIn('/studies/new');
  const [carId, loopId] = [idOrNothing(query.car), idOrNothing(query.loop)];
  const requestId = idOrNothing(query.request);
  const cruiseClassKey = one(query, 'class');
  const begunWith = { baselineId: idOrNothing(query.baseline), setupId: idOrNothing(query.setup) };
  if (carId === undefined || loopId === undefined || cruiseClassKey === undefined) {
    const subjects = await readView(planSubjects(registry(), actor, requestId));
    return (
      <>
        <PageHeader
          title="Plan a study"
          lead="One question, answered by driving: first which car, on which loop, how fast."
          breadcrumbs={CRUMBS}
        />
        <SafetyCaution kind="plan" />
        <ChooseSubjects subjects={subjects} query={query} />
      </>
    );
  }
  const [view, display] = await Promise.all([
    readView(newPlanForm(registry(), actor, { carId, loopId, cruiseClassKey, begunWith, requestId })),
    readerDisplay(),
  ]);
  return (
    <>
      <PageHeader title="Plan a study" lead={<PlanLead view={view} />} breadcrumbs={CRUMBS} />
      <SafetyCaution kind="plan" />
      <PlanForm view={view} display={display} subjects={{ carId, loopId, cruiseClassKey }} />
    </>
  );
}

function ChooseSubjects({ subjects, query }: { subjects: PlanSubjects; query: SearchParams }) {
  if (subjects.cars.length === 0) {
    return (
      <EmptyState title="You have no car here yet.">
        <Link className="link" href="/my/cars">
          Add your car
        </Link>{' '}
        first; a study is driven with it.
      </EmptyState>
    );
  }
  return (
    <form action="/studies/new" className="max-w-xl space-y-6" aria-label="Of what and where">
      {subjects.request === undefined ? null : (
        <p>
          Readers ask: “{subjects.request.question}” Choose a car of that model, and the speed that is set.
        </p>
      )}
      {['baseline', 'setup', 'request'].map((name) => {
        const value = idOrNothing(query[name]);
        return value === undefined ? null : <input key={name} type="hidden" name={name} value={value} />;
      })}
      <ChoiceField
        name="car"
        label="Car"
        options={subjects.cars.map(({ id, name, model }) => ({ value: id, label: `${name} (${model})` }))}
        defaultValue={one(query, 'car') ?? subjects.cars[0]?.id ?? ''}
      />
      <ChoiceField
        name="loop"
        label="Loop"
        hint={
          subjects.hasMoreLoops
            ? 'Yours and those that you drove last, then others by name.'
            : 'The road out and back on which you will drive.'
        }
        options={subjects.loops.map(({ id, name, region, length, postedLimit }) => ({
          value: id,
          label: `${name}, ${region} (${length}, limit ${postedLimit})`,
        }))}
        defaultValue={one(query, 'loop') ?? subjects.loops[0]?.id ?? ''}
      />
      <ChoiceField
        name="class"
        label="Speed"
        hint="Within the posted limit of the loop, which comes first."
        options={subjects.classes.map(({ key, label }) => ({ value: key, label }))}
        defaultValue={one(query, 'class') ?? subjects.request?.cruiseClassKey ?? 'kmh-110'}
      />
      <SubmitButton>Go on</SubmitButton>
    </form>
  );
}
