import type { ReactNode } from 'react';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { HomeView } from '@/lib/registry/home/home';

const plural = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`;

/** What to do next, by who one is. */
export function NextSteps({ view }: { view: HomeView }) {
  const { waiting } = view;
  return (
    <Section id="next" title="What to do next" wide>
      <div className="grid gap-x-10 gap-y-8 md:grid-cols-3">
        <Steps title="You want to know">
          <Step href="/factors">See what ride height, tyres or a roof box do, model by model</Step>
          <Step href="/estimate">Work out range, charging time and cost of a trip of your own</Step>
          <Step href="/rankings">Look up setups by consumption at one true speed</Step>
          <Step href="/compare">Compare two settings of one car</Step>
          <Step href="/runs">Trace a number back to its readings and photos</Step>
          <Step href="/method">Read how a number is made, and where it is known to be wrong</Step>
        </Steps>
        <Steps title="You drive and measure">
          {waiting === undefined ? (
            <>
              <Step href="/protocol">See what a run has to meet before you drive it</Step>
              <Step href="/safety">Read the cautions for driving</Step>
              <Step href="/sign-up">Make an account and add your car</Step>
            </>
          ) : (
            <>
              <Step href="/record">Record a run</Step>
              {waiting.changesAsked > 0 ? (
                <Step href="/my">
                  Answer a reviewer: {plural(waiting.changesAsked, 'run waits', 'runs wait')} for changes
                </Step>
              ) : null}
              {waiting.drafts > 0 ? (
                <Step href="/my">Go on with {plural(waiting.drafts, 'draft', 'drafts')}</Step>
              ) : null}
              <Step href="/protocol">See what a run has to meet</Step>
              <Step href="/safety">Read the cautions for driving</Step>
            </>
          )}
        </Steps>
        <Steps title="You review">
          {view.isReviewer ? (
            <Step href="/queue">
              {waiting && waiting.reviews > 0
                ? `Take one of ${plural(waiting.reviews, 'run that waits', 'runs that wait')} for a decision`
                : 'The queue is empty'}
            </Step>
          ) : (
            <li className="text-sm text-ink-soft">
              Reviewers vet the runs of others, never their own. A steward gives the role to testers whose own
              runs hold up.
            </li>
          )}
          <Step href="/protocol">The rules, with the reason for each</Step>
          {view.isSteward ? <Step href="/people">Roles</Step> : null}
          {view.isSteward ? <Step href="/audit">Audit log</Step> : null}
        </Steps>
      </div>
    </Section>
  );
}

function Steps({ title, children }: { title: string; children: ReactNode }) {
  return (
    <div>
      <h3>{title}</h3>
      <ul className="mt-2 space-y-1.5">{children}</ul>
    </div>
  );
}

function Step({ href, children }: { href: string; children: ReactNode }) {
  return (
    <li>
      <Link className="link" href={href}>
        {children}
      </Link>
    </li>
  );
}
