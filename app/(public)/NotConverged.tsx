import { Notice } from '@/app/ui/Notice';

/** Above every interval of a fit that stopped before it was done. */
export function NotConverged({ at }: { at?: string }) {
  const fit = at === undefined ? 'The fit' : `The fit at ${at}`;
  return <Notice kind="caution" title={`${fit} did not converge: treat its intervals as provisional.`} />;
}
