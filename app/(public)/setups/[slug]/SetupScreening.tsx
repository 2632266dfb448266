import { levelWords } from '@/app/runDossier/screeningWords';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { ShownCar } from '@/lib/registry/setups/setupSessions';
import type { ShownScreening } from '@/lib/stats/shownScreening';
import type { Display } from '@/lib/units/display';
import { ResidualScreening } from './ResidualScreening';
import { StandardScreening } from './StandardScreening';
import type { ClassOfFigure, SetupOfFigure } from './setupSource';

interface SetupScreeningProps {
  screening: ShownScreening;
  /** Those that the screening names. */
  cars: readonly ShownCar[];
  view: SetupOfFigure;
  chosen: ClassOfFigure;
  display: Display;
}

/** Which cars or runs stand out, by the protocol's levels. Nothing is left out of the estimate for it. */
export function SetupScreening({ screening, cars, view, chosen, display }: SetupScreeningProps) {
  return (
    <Section
      id="screening"
      title="Does anything stand out?"
      note={
        <>
          By the levels of the{' '}
          <Link className="link" href="/protocol">
            protocol in force
          </Link>
          : {levelWords(screening.levels, display)}. What stands out more than luck alone would usually make
          it is called a straggler and shown; what stands out far more, an outlier, and a person looks at it.
          Nothing is taken out by itself: every run stays in the estimate unless its approval is withdrawn.
        </>
      }
      wide
    >
      {screening.by === 'iso5725' ? (
        <StandardScreening display={display} screening={screening} cars={cars} view={view} chosen={chosen} />
      ) : (
        <ResidualScreening display={display} screening={screening} />
      )}
    </Section>
  );
}
