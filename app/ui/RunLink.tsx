import { Link } from './Link';

/** The page of a run, by its number. */
export function RunLink({ number }: { number: number }) {
  return (
    <Link className="link num" href={`/runs/${number}`}>
      Run {number}
    </Link>
  );
}
