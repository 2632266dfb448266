import { PageHeader } from '@/app/ui/PageHeader';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';

/** What is held against what, as the title of the page. */
export function CompareHead({ view, baseline }: { view: CompareView; baseline: ComparedSetup }) {
  const [only, second] = view.differences;
  const asked = only && !second ? setupAtStart(only.setup.name) : `${view.differences.length} setups`;
  const models = [...new Set([baseline.model, ...view.others.map(({ model }) => model)])];
  return (
    <PageHeader
      title={`${asked} against ${setupInText(baseline.name)}`}
      meta={`${models.length === 1 ? models[0] : `${models.length} models`} · at ${view.classLabel}`}
    />
  );
}
