import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { StudyView } from '@/lib/registry/studies/study';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';
import { GuessForm } from './GuessForm';
import { guessesFigure } from './guessesFigure';

/** While a study runs what one expects of it; when it is complete what everybody had expected, beside what came out. */
export function Guesses({ view, display }: { view: StudyView; display: Display }) {
  const { guesses, plan, state } = view;
  const setupId = plan?.contrasts[0]?.setupId;
  const titleOf = (id: string | undefined) => view.setups.find((setup) => setup.id === id)?.title ?? '';
  const names = { setup: titleOf(setupId), baseline: titleOf(plan?.baselineId) };
  const contrast = view.standing?.contrasts.find((one) => one.setupId === setupId);
  if (state === 'complete' && guesses.shown !== null && guesses.count > 0 && contrast !== undefined) {
    return (
      <Section id="guesses" title="What readers had expected" wide>
        <Figure figure={guessesFigure(view, contrast, names, guesses.shown, display)} />
      </Section>
    );
  }
  if (state !== 'running' || setupId === undefined) return null;
  return (
    <Section
      id="guesses"
      title="What do you expect?"
      note="You may change it until the study ends. Nobody sees what others expect before that, and never who expected it."
    >
      <p className="mb-4 max-w-[46rem]">
        How does {setupInText(names.setup)} compare with {setupInText(names.baseline)}?{' '}
        {guesses.count === 1 ? '1 reader has' : `${guesses.count} readers have`} guessed.
      </p>
      {guesses.mayGuess ? (
        <GuessForm studyId={view.id} slug={view.slug} own={ownOf(guesses.own, display)} />
      ) : view.mine.drives ? (
        <p className="text-ink-soft">Those who drive in it do not guess.</p>
      ) : (
        <p>
          <Link className="link" href={`/sign-in?callbackUrl=${encodeURIComponent(`/studies/${view.slug}`)}`}>
            Sign in
          </Link>{' '}
          to guess.
        </p>
      )}
    </Section>
  );
}

function ownOf(own: number | null, display: Display): { direction: string; size: string } {
  if (own === null) return { direction: '', size: '' };
  if (own === 0) return { direction: 'same', size: '' };
  const decimals = Number.isInteger(own) ? 0 : 1;
  return { direction: own < 0 ? 'less' : 'more', size: showNumber(Math.abs(own), decimals, display) };
}
