import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import type { HomeView } from '@/lib/registry/home/home';

/** On a new registry: what comes first. */
export function StartHere({ view }: { view: HomeView }) {
  if (view.isUnclaimed) {
    return (
      <EmptyState
        title="This registry is new and has no accounts."
        action={
          <LinkButton href="/sign-up" variant="primary">
            Make the first account
          </LinkButton>
        }
      >
        The window in which the server was started shows a one-time code. The account that enters it becomes
        the steward, who gives roles to the others.
      </EmptyState>
    );
  }
  if (view.lacksSteward) {
    return (
      <Notice kind="info" title="This registry has no steward yet.">
        The window in which the server was started shows a one-time code. Enter it when you{' '}
        <Link className="link" href="/sign-up">
          open an account
        </Link>
        , or on the{' '}
        <Link className="link" href="/account#steward">
          page of your account
        </Link>
        .
      </Notice>
    );
  }
  if (view.counts.approved > 0) return null;
  return (
    <Notice kind="info" title="No run has been approved yet.">
      {view.isSteward ? (
        <p>
          <Link className="link" href="/record/first">
            The first run
          </Link>{' '}
          is three steps away: a car, a loop, the form.
        </p>
      ) : (
        <p>A run appears here when somebody else than its tester has approved it.</p>
      )}
    </Notice>
  );
}
