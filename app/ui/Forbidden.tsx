import { EmptyState } from './EmptyState';
import { LinkButton } from './LinkButton';
import { PageHeader } from './PageHeader';

/** In place of a page that this account has no business on (403). */
export default function Forbidden() {
  return (
    <>
      <PageHeader title="Not for this account" />
      <EmptyState
        title="This page belongs to another role."
        action={<LinkButton href="/runs">Public runs</LinkButton>}
      >
        Reviewers see the queue, stewards the people and the audit log. Roles are given by the stewards of
        this registry.
      </EmptyState>
    </>
  );
}
