import { EmptyState } from '@/app/ui/EmptyState';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import type { Problem } from '@/app/visitor/problem';

/** In place of a page that this account has no business on. */
export function Refused({ title, problem }: { title: string; problem: Problem }) {
  return (
    <>
      <PageHeader title={title} />
      <EmptyState title={problem.title} action={<LinkButton href="/runs">Public runs</LinkButton>}>
        Roles are given by the stewards of this registry.
      </EmptyState>
    </>
  );
}
