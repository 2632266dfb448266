import { randomUUID } from 'node:crypto';
import type { Metadata } from 'next';
import type { ReactNode } from 'react';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { Link } from '@/app/ui/Link';
import { Outcome } from '@/app/ui/Outcome';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { modelChoices } from '@/lib/registry/cars/carChoices';
import { proposedLoop } from '@/lib/registry/loops/loopFromTrace';
import { firstRun } from '@/lib/registry/runs/firstRun';
import { idOrNothing, readView } from '../../readView';
import { BeginRun } from './BeginRun';
import { CarStep, NEW_MODEL } from './CarStep';
import { BY_HAND, LoopStep } from './LoopStep';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Your first run' };

/** Car, loop, run: one step open at a time. What is there already is done, so the path can be left at any place. */
export default async function FirstRunPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const actor = await requireSignedIn('/record/first');
  const query = await searchParams;
  const [model, text, loop, traceId] = [
    one(query, 'model'),
    one(query, 'q'),
    one(query, 'loop'),
    idOrNothing(query.trace),
  ];
  const view = await readView(firstRun(registry(), actor, idOrNothing(query.loop)));
  const proposed = traceId
    ? { traceId, proposal: await readView(proposedLoop(registry(), actor, traceId)) }
    : undefined;
  const hasCar = view.cars.length > 0;
  const isOtherLoop = loop === BY_HAND || loop === 'other' || traceId !== undefined;
  const chosen = isOtherLoop ? undefined : view.loop;
  return (
    <>
      <PageHeader
        title="Your first run"
        lead="Three steps to the form of a run. You can leave at any time: what you have added is kept, and this page goes on from there."
        breadcrumbs={[{ label: 'Record a run', href: '/record' }, { label: 'Your first run' }]}
      />
      <ol className="mb-8 max-w-[46rem] space-y-3" aria-label="Steps">
        <Step isDone={hasCar} isNext={!hasCar} title="The car and its model">
          {hasCar ? view.cars.map(({ name, model: of }) => `${name}, ${of}`).join('; ') : null}
        </Step>
        <Step
          isDone={hasCar && chosen !== undefined}
          isNext={hasCar && chosen === undefined}
          title="The loop"
        >
          {chosen ? (
            <>
              {chosen.name}, {chosen.length}.{' '}
              <Link className="link" href="/record/first?loop=other#next">
                Another one
              </Link>
            </>
          ) : null}
        </Step>
        <Step
          isDone={false}
          isNext={hasCar && chosen !== undefined}
          title="The first run, with the car as delivered"
        />
      </ol>
      {!hasCar ? (
        <Section id="next" title={model === NEW_MODEL ? 'The model' : 'The car'} wide>
          <CarStep
            model={model}
            text={text}
            choices={
              await readView(modelChoices(registry(), actor, { text, chosenId: idOrNothing(query.model) }))
            }
          />
        </Section>
      ) : chosen === undefined ? (
        <Section
          id="next"
          title="The loop"
          note="A fixed route out and back, so that wind and slope cancel."
          wide
        >
          <LoopStep
            view={view}
            isByHand={loop === BY_HAND}
            proposed={proposed}
            display={await readerDisplay()}
          />
        </Section>
      ) : (
        <Section id="next" title="The first run" wide>
          <SafetyCaution kind="record" />
          <p className="my-5 max-w-[46rem]">
            The form opens with car, loop and setup filled in. A draft is saved as you type. On the road, the{' '}
            <Link className="link" href="/field">
              field card
            </Link>{' '}
            takes the readings, without a network too.
          </p>
          <BeginRun creationKey={randomUUID()} cars={view.cars} loopId={chosen.id} />
        </Section>
      )}
    </>
  );
}

interface StepProps {
  isDone: boolean;
  isNext: boolean;
  title: string;
  children?: ReactNode;
}

function Step({ isDone, isNext, title, children }: StepProps) {
  return (
    <li
      aria-current={isNext ? 'step' : undefined}
      className="border-l-4 border-rule pl-4 aria-[current=step]:border-accent"
    >
      <p className="flex flex-wrap items-baseline gap-x-3">
        <span className="font-semibold">{title}</span>
        <Outcome
          outcome={isDone ? 'pass' : 'notChecked'}
          label={isDone ? 'done' : isNext ? 'this comes next' : 'later'}
        />
      </p>
      {children ? <p className="text-sm">{children}</p> : null}
    </li>
  );
}
