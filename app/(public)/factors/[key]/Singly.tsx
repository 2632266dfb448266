import { AnswerList } from '@/app/ui/answers/AnswerList';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { answerOf } from '@/lib/answers/answer';
import type { FactorView } from '@/lib/registry/factors/factors';
import type { Display } from '@/lib/units/display';
import { estimateHref } from '../../estimate/estimateQuery';
import { answerHref } from '../../home/answerHref';

/** What each model says by itself, in its testers' words: an answer where models cannot be put side by side. */
export function Singly({ view, display }: { view: FactorView; display: Display }) {
  if (view.singly.length === 0) return null;
  const { cruiseClassKey: classKey, world } = view.group;
  return (
    <Section
      id="models"
      title="Model by model"
      note={`Each against its own model “As delivered”, with nothing else changed, at ${view.classLabel}.`}
    >
      <AnswerList
        label="Model by model"
        rows={view.singly.map((model) => {
          const asked = { setup: model.setup.title, baseline: model.baseline.title };
          const { word, line, next } = answerOf(model, asked, display);
          return {
            key: model.setup.setupId,
            name: (
              <>
                <Link className="link" href={answerHref({ classKey, world, ...model }, display.consumption)}>
                  {model.setup.title}
                </Link>
                , {model.model} (
                <Link
                  className="link"
                  href={estimateHref({
                    setup: model.setup.slug,
                    against: model.baseline.slug,
                    classKey,
                  })}
                >
                  what would mine do?
                </Link>
                )
              </>
            ),
            word,
            text: line,
            note: next,
          };
        })}
      />
    </Section>
  );
}
