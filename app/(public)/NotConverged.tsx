import { Notice } from '@/app/ui/Notice';

/** Above every interval of a fit that stopped before it was done. */
export function NotConverged() {
  return <Notice kind="caution" title="The fit did not converge: treat these intervals as provisional." />;
}
