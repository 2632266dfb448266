import type { LiveAnswer } from '@/lib/registry/home/liveAnswers';
import { compareHref } from '../compare/compareQuery';

interface AnsweredPair extends Pick<LiveAnswer, 'classKey' | 'world'> {
  baseline: { slug: string };
  setup: { slug: string };
}

/** The comparison in which an answer stands with all its evidence. */
export function answerHref({ classKey, world, baseline, setup }: AnsweredPair, unit?: string): string {
  return compareHref({}, { class: classKey, world, unit }, [baseline.slug, setup.slug]);
}
