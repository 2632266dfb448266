import type { LiveAnswer } from '@/lib/registry/home/liveAnswers';
import { compareHref } from '../compare/compareQuery';

/** The comparison in which an answer stands with all its evidence. */
export function answerHref(
  { classKey, world, baseline, setup }: Pick<LiveAnswer, 'classKey' | 'world' | 'baseline' | 'setup'>,
  unit?: string,
): string {
  return compareHref({}, { class: classKey, world, unit }, [baseline.slug, setup.slug]);
}
