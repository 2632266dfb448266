import type { AnswerWord } from '@/lib/answers/answer';
import { Link } from '../Link';

/** The more of the disc is filled, the surer; the word says the same. */
const MARKS: Record<AnswerWord, { fill: string; ink: string }> = {
  settled: { fill: 'M6 1a5 5 0 0 1 0 10a5 5 0 0 1 0-10z', ink: 'text-accent' },
  probable: { fill: 'M6 6V1a5 5 0 1 1-5 5z', ink: 'text-accent' },
  leaning: { fill: 'M6 1a5 5 0 0 1 0 10z', ink: 'text-caution' },
  undecided: { fill: '', ink: 'text-caution' },
  'no answer yet': { fill: '', ink: 'text-ink-soft' },
};

/** How sure an answer is, as a mark and a word; what the word means is one click away. */
export function EvidenceTag({ word, note }: { word: AnswerWord; note?: string | undefined }) {
  const { fill, ink } = MARKS[word];
  return (
    <Link
      href="/method#evidence"
      className={`inline-flex min-h-6 items-center gap-1.5 whitespace-nowrap text-sm font-semibold no-underline hover:underline ${ink}`}
    >
      <svg viewBox="0 0 12 12" className="size-3 shrink-0" aria-hidden="true" focusable="false">
        <circle
          cx="6"
          cy="6"
          r="5"
          fill="none"
          stroke="currentColor"
          strokeWidth="1.4"
          strokeDasharray={word === 'no answer yet' ? '2 1.6' : undefined}
        />
        {fill === '' ? null : <path d={fill} fill="currentColor" />}
      </svg>
      {note === undefined ? word : `${word}, ${note}`}
      <span className="sr-only">: what the word means</span>
    </Link>
  );
}
