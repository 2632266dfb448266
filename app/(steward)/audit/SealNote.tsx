import { Second } from '@/app/ui/When';

interface SealNoteProps {
  unsealed: number;
  head: { number: number; sealedAt: string; hash: string } | null;
}

/** How far the log is sealed, and the digest of its head to hold a copy against. */
export function SealNote({ unsealed, head }: SealNoteProps) {
  const waiting = `${unsealed} ${unsealed === 1 ? 'entry is' : 'entries are'} not sealed yet.`;
  if (head === null) return <p className="mb-4 text-sm text-ink-soft">Nothing is sealed yet: {waiting}</p>;
  return (
    <p className="mb-4 text-sm text-ink-soft">
      Sealed up to head {head.number} of <Second at={head.sealedAt} />, digest{' '}
      <span className="num break-all">{head.hash}</span>
      {unsealed === 0 ? '.' : `; ${waiting}`} On the server, <code>npm run audit:verify</code> holds the log
      against its seals.
    </p>
  );
}
