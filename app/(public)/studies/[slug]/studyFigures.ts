import type { FigureDescription } from '@/app/ui/figures/description';
import { type StudyParagraph, studyParagraph } from '@/lib/answers/studyParagraph';
import type { StudyView } from '@/lib/registry/studies/study';
import type { ContrastStanding } from '@/lib/study/standing';
import { type Display, displayParameters } from '@/lib/units/display';
import { looksFigure } from './looksFigure';
import { paragraphNumbers } from './paragraphNumbers';

type SaidAnswer = StudyParagraph['answers'][number]['answer'];

export interface PublishedContrast {
  contrast: ContrastStanding;
  setup: { title: string; slug: string };
  answer: SaidAnswer;
  figure: FigureDescription;
}

export interface PublishedStudy {
  paragraph: StudyParagraph;
  contrasts: PublishedContrast[];
}

/**
 * What a study says to everybody, each difference with its figure; undefined where its plan can no longer be read. Asked
 * of a view that nobody in particular reads, as the figures have addresses.
 */
export function publishedStudy(view: StudyView, display: Display): PublishedStudy | undefined {
  const { plan, standing, setups } = view;
  if (plan === undefined || standing === null) return undefined;
  const paragraph = studyParagraph(paragraphNumbers(view, plan, standing), display);
  const baseline = setups[0]?.title ?? '';
  const contrasts = standing.contrasts.flatMap((contrast): PublishedContrast[] => {
    const setup = setups.find(({ id }) => id === contrast.setupId);
    const answer = paragraph.answers.find(({ setupId }) => setupId === contrast.setupId)?.answer;
    if (setup === undefined || answer === undefined) return [];
    const figure = looksFigure(view, contrast, { setup: setup.title, baseline }, answer, display);
    const said = Object.fromEntries(displayParameters(display));
    const address = { kind: 'study', key: view.slug, query: { ...said, setup: setup.slug } };
    return [{ contrast, setup, answer, figure: setup.slug === '' ? figure : { ...figure, address } }];
  });
  return { paragraph, contrasts };
}
