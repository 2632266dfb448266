import { Notice } from '@/app/ui/Notice';
import { WorkProgress } from '@/app/ui/WorkProgress';
import type { RankingView } from '@/lib/registry/rankings/rankings';

/**
 * Above the list: that it is about to change, or that it should have. Who may ask for a refit sees how far it is, and the
 * page is read anew until it is done; other readers are not moved while they read.
 */
export function RefitNotice({ refit, progress }: Pick<RankingView, 'refit' | 'progress'>) {
  if (refit?.state === 'failed') {
    return (
      <Notice
        kind="problem"
        title={`The last refit failed, so runs decided since the last published fit are not in it: ${refit.error ?? 'no reason given'}`}
      />
    );
  }
  if (progress !== null && progress.state !== 'done') {
    return (
      <WorkProgress
        progress={progress}
        words="runs read"
        title="This class is being fitted again; shown is the last published fit."
      />
    );
  }
  if (refit?.state === 'queued' || refit?.state === 'running') {
    return <Notice kind="info" title="This class is being fitted again; shown is the last published fit." />;
  }
  return null;
}
