import { countText } from '@/app/ui/countText';
import { Link } from '@/app/ui/Link';
import type { LatestDay } from '@/lib/registry/sessionSheets/latestDays';
import { dayWords } from '@/lib/run/localDate';

/** The tester's latest days, each with its own address. */
export function LatestDays({ days }: { days: readonly LatestDay[] }) {
  if (days.length === 0) return null;
  return (
    <ul className="mt-4 space-y-1 text-sm">
      {days.map((day) => (
        <li key={day.sheetId}>
          <Link href={`/record/day/${day.sheetId}`} className="link inline-flex min-h-6 items-center">
            {dayWords(day.localDate)}
          </Link>{' '}
          <span className="text-ink-soft">
            {[day.what, countText({ runs: day.runs })].filter((part) => part !== '').join(' · ')}
          </span>
        </li>
      ))}
    </ul>
  );
}
