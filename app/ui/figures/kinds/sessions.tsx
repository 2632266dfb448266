import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { drawRowChart } from '../rowChart';

export interface SessionRow {
  key: string;
  /** Car and day. */
  label: string;
  detail: string;
  /** The first session of a further car. */
  ruled: boolean;
  runs: readonly { number: number; value: number /** Its row in the table. */; row: number }[];
}

/** One row a session, one dot a run; a rule parts the cars. Spread within a row is repeatability. */
export interface SessionsData {
  kind: 'sessions';
  rows: readonly SessionRow[];
  estimate: { value: number; label: string };
  axisLabel: string;
}

export const sessions: FigureKind<SessionsData> = {
  draw: (frame, { rows, estimate, axisLabel }) =>
    drawRowChart(frame, {
      values: rows.flatMap((row) => row.runs.map(({ value }) => value)),
      axisLabel,
      reference: estimate,
      rows: rows.map((row) => ({
        key: row.key,
        label: row.label,
        detail: row.detail,
        ruled: row.ruled,
        row: null,
        marks: ({ x, y }) => (
          <g>
            {row.runs.map((run) => (
              <RunDot key={run.number} x={x(run.value)} y={y} row={run.row} />
            ))}
          </g>
        ),
      })),
    }),
  legend: () => [{ label: 'one run, at reference conditions', mark: <RunDot x={14} y={6} /> }],
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};

function RunDot({ x, y, row }: { x: number; y: number; row?: number }) {
  return (
    <circle
      data-row={row}
      cx={x}
      cy={y}
      r="4.5"
      fill={paint.accent}
      fillOpacity="0.85"
      stroke={paint.paper}
    />
  );
}
