import Link from 'next/link';
import { levelWords } from '@/app/runDossier/screeningWords';
import { Section } from '@/app/ui/Section';
import type { SetupSession } from '@/lib/registry/setups/setup';
import type { Screening } from '@/lib/stats/screening';
import { ResidualScreening } from './ResidualScreening';
import { StandardScreening } from './StandardScreening';

interface SetupScreeningProps {
  screening: Screening;
  sessions: readonly SetupSession[];
  title: string;
}

/** Which cars or runs lie apart, by the protocol's levels. Nothing is left out of the estimate for it. */
export function SetupScreening({ screening, sessions, title }: SetupScreeningProps) {
  return (
    <Section
      id="screening"
      title="Screening"
      note={
        <>
          By the levels of the{' '}
          <Link className="link" href="/protocol">
            protocol in force
          </Link>
          : {levelWords(screening.levels)}. A straggler is shown, an outlier is sent to a person. Nothing is
          removed automatically: every run stays in the estimate unless its approval is withdrawn.
        </>
      }
      wide
    >
      {screening.by === 'iso5725' ? (
        <StandardScreening screening={screening} sessions={sessions} title={title} />
      ) : (
        <ResidualScreening screening={screening} />
      )}
    </Section>
  );
}
