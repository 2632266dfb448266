import SitePage from './SitePage';
import { EmptyState } from './ui/EmptyState';
import { LinkButton } from './ui/LinkButton';
import { PageHeader } from './ui/PageHeader';

/** In place of a page that this account has no business on (403). */
export default function Forbidden() {
  return (
    <SitePage>
      <PageHeader title="Not for this account" />
      <EmptyState
        title="This page belongs to another role."
        action={<LinkButton href="/runs">Public runs</LinkButton>}
      >
        Reviewers see the queue, stewards the people and the audit log. Roles are given by the stewards of
        this registry.
      </EmptyState>
    </SitePage>
  );
}
