import type { ReactNode } from 'react';
import type { AnswerWord } from '@/lib/answers/answer';
import { EvidenceTag } from './EvidenceTag';
import { unbroken } from './unbroken';

export interface AnswerRow {
  key: string;
  name: ReactNode;
  word: AnswerWord;
  /** "probably 1.3 % less (0.2 to 2.3)" */
  text: string;
  /** What hinders it, or would make it surer. */
  note?: string | undefined;
}

/** Several answers, the surest first, each in a line. */
export function AnswerList({ rows, label }: { rows: readonly AnswerRow[]; label: string }) {
  return (
    <ul className="mb-6 max-w-[46rem]" aria-label={label}>
      {rows.map(({ key, name, word, text, note }) => (
        <li key={key} className="border-b border-rule py-2">
          <div className="flex flex-wrap items-baseline justify-between gap-x-6">
            <span className="font-semibold">{name}</span>
            <EvidenceTag word={word} />
          </div>
          <p className="num">{unbroken(text)}</p>
          {note === undefined || note === '' ? null : <p className="text-sm text-ink-soft">{note}</p>}
        </li>
      ))}
    </ul>
  );
}
