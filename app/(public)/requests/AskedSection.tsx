import { Disclosure } from '@/app/ui/Disclosure';
import { EmptyState } from '@/app/ui/EmptyState';
import { LinkButton } from '@/app/ui/LinkButton';
import { Section } from '@/app/ui/Section';
import type { RequestsView } from '@/lib/registry/requests/requests';
import { RequestItem } from './RequestItem';

/** What readers ask for in the class, the most voices first. */
export function AskedSection({ view }: { view: RequestsView }) {
  const { asked, answered, hasMore, classLabel } = view;
  const query = new URLSearchParams({ class: view.group.cruiseClassKey });
  return (
    <Section
      id="asked"
      title={`What readers ask for at ${classLabel}`}
      note="One vote for each account; it can be taken back. Whoever backs a request is told when it is driven and when it is answered."
      actions={<LinkButton href={`/requests/new?${query}`}>Ask for a test</LinkButton>}
    >
      {asked.length === 0 ? (
        <EmptyState title="Nothing is asked for here.">
          Anybody with an account can ask testers to hold two things against each other.
        </EmptyState>
      ) : (
        <ol className="space-y-6">
          {asked.map((request) => (
            <li key={request.id}>
              <RequestItem request={request} />
            </li>
          ))}
        </ol>
      )}
      {hasMore ? <p className="mt-4 text-ink-soft">Those with fewer votes are not shown.</p> : null}
      {answered.length > 0 ? (
        <Disclosure title={`Answered (${answered.length})`}>
          <ol className="space-y-6">
            {answered.map((request) => (
              <li key={request.id}>
                <RequestItem request={request} />
              </li>
            ))}
          </ol>
        </Disclosure>
      ) : null}
    </Section>
  );
}
