import { publicAddress } from '@/app/runDossier/publicAddress';
import { bySureness } from '@/lib/answers/answer';
import { type CitedSnapshot, studyCitation } from '@/lib/answers/citation';
import { publishText } from '@/lib/answers/publishText';
import { numbersOf } from '@/lib/answers/studyParagraph';
import type { StudyView } from '@/lib/registry/studies/study';
import { dateText } from '@/lib/run/localDate';
import { STUDY_STATE_LABELS } from '@/lib/study/studyState';
import { type Display, displayParameters } from '@/lib/units/display';
import { countedOf } from './paragraphNumbers';
import type { PublishedStudy } from './studyFigures';

/** The address of a study in this way to show numbers. */
export function studyPath(slug: string, display: Display): string {
  const said = new URLSearchParams(displayParameters(display)).toString();
  return `/studies/${slug}${said === '' ? '' : `?${said}`}`;
}

export function studyVideoText(view: StudyView, published: PublishedStudy, display: Display) {
  const { paragraph, contrasts } = published;
  const surest = contrasts.toSorted((a, b) => bySureness(numbersOf(a.contrast), numbersOf(b.contrast)));
  const isOver = view.state === 'complete' || view.state === 'abandoned';
  return publishText({
    question: view.question,
    answers: surest.map(({ setup, answer }) => ({ setup: setup.title, answer })),
    counts: `${isOver ? '' : 'Not finished yet: this may change. '}${paragraph.driven}`,
    further: [...paragraph.cannot, paragraph.which],
    link: publicAddress(studyPath(view.slug, display)),
    isDemo: view.world === 'demo',
  });
}

export function citationOfStudy(
  view: StudyView,
  display: Display,
  snapshot: CitedSnapshot | undefined,
): string {
  return studyCitation({
    by: view.owner.displayName,
    question: view.question,
    state: STUDY_STATE_LABELS[view.state],
    model: view.model.words,
    classLabel: view.classLabel,
    loopName: view.loop.name,
    counted: countedOf(view),
    planVersion: view.versions[0]?.number ?? 1,
    methodVersion: view.methodVersion,
    asOf: dateText(view.asOf),
    address: publicAddress(studyPath(view.slug, display)),
    isDemo: view.world === 'demo',
    snapshot,
  });
}
