'use client';

import { Button } from './ui/Button';
import { PageHeader } from './ui/PageHeader';
import { SiteFrame } from './ui/SiteFrame';

interface ErrorPageProps {
  error: Error & { digest?: string };
  reset: () => void;
}

/** A fault of ours: what a person can cause is answered where it was entered. */
export default function ErrorPage({ error, reset }: ErrorPageProps) {
  return (
    <SiteFrame>
      <PageHeader
        title="This page could not be made"
        lead="The fault is on the server’s side, and nothing that was saved is lost. Drafts are kept as you type."
      />
      {error.digest ? (
        <p className="mb-6 text-sm text-ink-soft">
          Whoever runs this installation finds the cause in its log under <code>{error.digest}</code>.
        </p>
      ) : null}
      <Button variant="primary" onClick={reset}>
        Try again
      </Button>
    </SiteFrame>
  );
}
