import { Notice } from '@/app/ui/Notice';
import type { RankingView } from '@/lib/registry/rankings/rankings';

/** Above the list: that it is about to change, or that it should have. */
export function RefitNotice({ refit }: Pick<RankingView, 'refit'>) {
  if (refit?.state === 'failed') {
    return (
      <Notice
        kind="problem"
        title={`The last refit failed, so runs decided since the last published fit are not in it: ${refit.error ?? 'no reason given'}`}
      />
    );
  }
  if (refit?.state === 'queued' || refit?.state === 'running') {
    return <Notice kind="info" title="This class is being fitted again; shown is the last published fit." />;
  }
  return null;
}
