import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { comparedWords, modelsCompared } from './compareWords';

interface CompareHeadProps {
  view: CompareView;
  baseline: ComparedSetup;
  publishHref: string;
}

/** What is held against what, as the title of the page. */
export function CompareHead({ view, baseline, publishHref }: CompareHeadProps) {
  const models = modelsCompared(view, baseline);
  return (
    <PageHeader
      title={comparedWords(view, baseline)}
      meta={`${models.length === 1 ? models[0] : `${models.length} models`} · at ${view.classLabel}`}
      actions={<LinkButton href={publishHref}>Publish it</LinkButton>}
    />
  );
}
