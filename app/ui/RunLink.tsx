import Link from 'next/link';

/** The page of a run, by its number. */
export function RunLink({ number }: { number: number }) {
  return (
    <Link className="link num" href={`/runs/${number}`}>
      Run {number}
    </Link>
  );
}
