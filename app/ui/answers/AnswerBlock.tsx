import type { ReactNode } from 'react';
import type { Answer } from '@/lib/answers/answer';
import { EvidenceTag } from './EvidenceTag';
import { unbroken } from './unbroken';

interface AnswerBlockProps {
  answer: Answer;
  /** What the answer is of, where the page has several. */
  heading?: ReactNode;
}

/** What a reader came for: how sure, one sentence, and what would make it surer. */
export function AnswerBlock({ answer, heading }: AnswerBlockProps) {
  return (
    <div className="mb-6 max-w-[46rem] border-l-2 border-accent pl-4">
      {heading ? <p className="text-sm text-ink-soft">{heading}</p> : null}
      <EvidenceTag word={answer.word} />
      <p className="mt-1 font-serif text-xl leading-snug">{unbroken(answer.sentence)}</p>
      {answer.next === '' ? null : <p className="mt-2 text-ink-soft">{answer.next}</p>}
    </div>
  );
}
