import { NextInStudy } from '@/app/(tester)/studies/NextInStudy';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { StudyView } from '@/lib/registry/studies/study';
import { AbandonForm, AddDayForm, StudyButton } from './MineForms';

/** What whoever planned the study, drives in it or could join may do now; nothing for everybody else. */
export function Mine({ view }: { view: StudyView }) {
  const { mine } = view;
  const mayAnything = mine.isOwner || mine.drives || mine.mayJoin;
  if (!mayAnything || view.state === 'complete' || view.state === 'abandoned') return null;
  const of = { studyId: view.id, slug: view.slug };
  return (
    <Section id="mine" title={mine.drives ? 'Your part' : 'Join in'} note="Only you see this part.">
      {mine.next ? (
        <>
          <NextInStudy next={mine.next} />
          <p className="mt-3 max-w-[46rem] text-sm text-ink-soft">
            Any run of yours with this model, loop and class belongs to the study as soon as you send it in.
          </p>
        </>
      ) : null}
      {mine.mayJoin ? (
        <>
          <p className="max-w-[46rem]">
            You have a car of this model. Runs of yours that fit the plan then belong to the study when you
            send them in, whatever they say.
          </p>
          <StudyButton kind="join" of={of} />
        </>
      ) : null}
      <div className="mt-4 flex flex-wrap items-start gap-x-8 gap-y-4">
        {mine.mayReplan ? (
          <Link className="link inline-flex min-h-11 items-center" href={`/studies/${view.slug}/plan`}>
            Change the plan
          </Link>
        ) : null}
        {mine.mayBegin ? <StudyButton kind="begin" of={of} /> : null}
        {mine.mayComplete ? <StudyButton kind="complete" of={of} /> : null}
      </div>
      {mine.days.length > 0 ? <AddDayForm of={of} days={mine.days} /> : null}
      {mine.mayAbandon ? (
        <details className="mt-4">
          <summary className="disclosure">Give it up</summary>
          <AbandonForm of={of} />
        </details>
      ) : null}
    </Section>
  );
}
