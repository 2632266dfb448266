import { Legend } from '@/app/ui/figures/Legend';
import { paint } from '@/app/ui/figures/paint';
import { ResponsiveSvg } from '@/app/ui/figures/ResponsiveSvg';
import { drawRowChart } from '@/app/ui/figures/rowChart';
import type { SetupSession } from '@/lib/registry/setups/setupSessions';
import { dayWords } from '@/lib/run/localDate';

interface SessionDotsProps {
  title: string;
  desc: string;
  sessions: readonly SetupSession[];
  /** In the reader's unit. */
  shown: (whPerKm: number) => number;
  estimate: { value: number; label: string };
  axisLabel: string;
}

/** One row a session, one dot a run; a rule parts the cars. Spread within a row is repeatability. */
export function SessionDots({ title, desc, sessions, shown, estimate, axisLabel }: SessionDotsProps) {
  const valuesOf = (session: SetupSession) =>
    session.runs.flatMap(({ number, normalisedWhPerKm }) =>
      normalisedWhPerKm === null ? [] : [{ number, value: shown(normalisedWhPerKm) }],
    );
  const drawn = sessions.filter((session) => valuesOf(session).length > 0);
  return (
    <div>
      <Legend
        items={[
          {
            label: 'one run, normalised',
            mark: <circle cx="14" cy="6" r="4.5" fill={paint.accent} stroke={paint.paper} />,
          },
        ]}
      />
      <ResponsiveSvg
        title={title}
        desc={desc}
        draw={(frame) =>
          drawRowChart(frame, {
            values: drawn.flatMap((session) => valuesOf(session).map(({ value }) => value)),
            axisLabel,
            reference: estimate,
            rows: drawn.map((session, index) => ({
              key: session.sessionId,
              label: `${session.car}, ${dayWords(session.date)}`,
              detail: session.loopName,
              ruled: index > 0 && drawn[index - 1]?.carId !== session.carId,
              marks: ({ x, y }) => (
                <g>
                  {valuesOf(session).map(({ number, value }) => (
                    <circle
                      key={number}
                      cx={x(value)}
                      cy={y}
                      r="4.5"
                      fill={paint.accent}
                      fillOpacity="0.85"
                      stroke={paint.paper}
                    />
                  ))}
                </g>
              ),
            })),
          })
        }
      />
    </div>
  );
}
