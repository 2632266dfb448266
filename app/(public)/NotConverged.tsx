import { Notice } from '@/app/ui/Notice';

/** Above every interval of a fit that stopped before it was done. */
export function NotConverged({ at }: { at?: string }) {
  const where = at === undefined ? 'here' : `at ${at}`;
  return (
    <Notice
      kind="caution"
      title={`The intervals ${where} are provisional: the calculation stopped before it was done.`}
    />
  );
}
