import { Section } from '@/app/ui/Section';
import { numbersOf } from '@/lib/answers/studyParagraph';
import type { StudyView } from '@/lib/registry/studies/study';
import { dateText } from '@/lib/run/localDate';
import type { OtherWays } from '@/lib/stats/otherWays/way';
import type { Display } from '@/lib/units/display';
import { WaysOfDifference } from '../../compare/OtherWays';
import type { PublishedContrast } from './studyFigures';

interface StudyWaysProps {
  view: StudyView;
  contrasts: readonly PublishedContrast[];
  ways: ReadonlyMap<string, OtherWays>;
  display: Display;
}

const READING = {
  running:
    'Each bar with a dot is the interval that holds at every look, worked out again that way; the bar of the cars left out is the span of the differences.',
  planned:
    'Each bar with a dot is the interval that was planned for the end, worked out again that way; the bar of the cars left out is the span of the differences.',
};

/** Does the answer of the study depend on the method? */
export function StudyWays({ view, contrasts, ways, display }: StudyWaysProps) {
  const shown = contrasts.flatMap((one) => {
    const found = ways.get(one.contrast.setupId);
    return found === undefined ? [] : [{ ...one, found }];
  });
  if (shown.length === 0) return null;
  return (
    <Section
      id="other-ways"
      title="Does the answer depend on the method?"
      note="The same runs, worked out in other ways that one could defend."
      wide
    >
      {shown.map(({ contrast, setup, found }) => (
        <div key={contrast.setupId} className="mb-8">
          {shown.length > 1 ? <h3>{setup.title}</h3> : null}
          <WaysOfDifference
            difference={{ ...numbersOf(contrast), name: setup.title }}
            found={found}
            published="As published"
            source={{
              counts: `${contrast.runs} runs on ${contrast.sessions} ${contrast.sessions === 1 ? 'day' : 'days'} with both`,
              source: { path: `/studies/${view.slug}`, asOf: dateText(view.asOf) },
              isDemo: view.world === 'demo',
              mark: display.mark,
            }}
            display={display}
            reading={READING[view.standing?.which ?? 'running']}
            runsOf="the study"
          />
        </div>
      ))}
    </Section>
  );
}
