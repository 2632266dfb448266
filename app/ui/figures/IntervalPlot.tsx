import Link from 'next/link';
import { type Axis, linearAxis } from './axis';
import type { FigureDescription } from './description';
import { IntervalMark } from './IntervalMark';
import type { IntervalRow } from './intervalRow';
import type { IntervalData } from './kinds/interval';
import { paint } from './paint';

/** No width depends on what stands in a row: the axis on top and the strips of all rows then share one scale. */
const columns = '@3xl:grid @3xl:grid-cols-[minmax(12rem,19rem)_minmax(0,1fr)_12rem] @3xl:gap-x-5';

/**
 * Estimates and intervals on one common axis. Labels, numbers and counts are page text; each row
 * carries its own strip, placed by percent, so nothing is scaled and everything can be read aloud.
 */
export function IntervalPlot(data: Omit<IntervalData, 'kind'> & Pick<FigureDescription, 'mark'>) {
  const { rows, label, unit, reference, ordered = true } = data;
  const axis = linearAxis({
    values: [
      ...rows.flatMap((row) => [row.estimate, row.low ?? row.estimate, row.high ?? row.estimate]),
      ...rows.flatMap((row) => (row.before ? [row.before.value] : [])),
      ...(reference ? [reference.value] : []),
    ],
    domain: data.domain,
    range: [0, 100],
    tickCount: 5,
    formatTick: data.formatTick,
    mark: data.mark,
  });
  const List = ordered ? 'ol' : 'ul';
  return (
    <div className="@container">
      <div aria-hidden="true" className={`${columns} items-end text-sm text-ink-soft`}>
        <span className="hidden font-semibold @3xl:block">{data.rowHead ?? 'Setup'}</span>
        <AxisLabels axis={axis} unit={unit} reference={reference} />
        <span className="hidden text-right font-semibold @3xl:block">
          {data.valueHead ?? `${unit}, 95 % interval`}
        </span>
      </div>
      <List aria-label={label} className="border-y border-rule-strong">
        {rows.map((row, index) => (
          <li
            key={row.key}
            data-row={index}
            className={`${columns} items-center border-b border-rule last:border-b-0`}
          >
            <div className="pt-2 @3xl:col-start-1 @3xl:self-end @3xl:pt-2.5 @3xl:last:pb-2.5">
              {row.href ? (
                <Link
                  href={row.href}
                  className="link inline-flex min-h-6 items-center font-semibold text-ink"
                >
                  {row.label}
                </Link>
              ) : (
                <span className="font-semibold">{row.label}</span>
              )}
              {row.detail ? <span className="block text-sm text-ink-soft">{row.detail}</span> : null}
            </div>
            <Strip axis={axis} row={row} reference={reference?.value} />
            <div className="num pb-1 text-sm @3xl:col-start-3 @3xl:row-span-2 @3xl:row-start-1 @3xl:py-2 @3xl:text-right">
              <span className="font-semibold whitespace-nowrap">
                {row.text} <span className="font-normal @3xl:sr-only">{unit}</span>
              </span>{' '}
              {row.intervalText ? (
                <span className="text-ink-soft @3xl:block">
                  <span className="sr-only">95 % interval </span>
                  {row.intervalText}
                </span>
              ) : null}
              {row.before ? <span className="block text-ink-soft">{row.before.text}</span> : null}
            </div>
            {row.counts || row.rank || row.group || row.caveat ? (
              <p className="num flex flex-wrap gap-x-4 pb-2.5 text-xs text-ink-soft @3xl:col-start-1 @3xl:row-start-2 @3xl:block @3xl:self-start @3xl:*:block">
                {row.rank ? <span className="text-ink">{row.rank}</span> : null}
                {row.group ? <span>{row.group}</span> : null}
                {row.counts ? <span>{row.counts}</span> : null}
                {row.caveat ? <span>{row.caveat}</span> : null}
              </p>
            ) : null}
          </li>
        ))}
      </List>
    </div>
  );
}

type Percent = `${number}%`;

const percent = (axis: Axis, value: number) => `${axis.scale(value).toFixed(3)}%` as Percent;

interface AxisLabelsProps {
  axis: Axis;
  unit: string;
  reference: IntervalData['reference'];
}

function AxisLabels({ axis, unit, reference }: AxisLabelsProps) {
  return (
    <svg
      className="figure-svg block h-11 w-full overflow-visible @3xl:col-start-2"
      fontSize="13"
      fill={paint['ink-soft']}
      aria-hidden="true"
      focusable="false"
    >
      <text x="0" y="12">
        {reference ? '' : unit}
      </text>
      {reference ? (
        <text x={percent(axis, reference.value)} y="12" textAnchor="middle" fill={paint.ink}>
          {reference.label}
        </text>
      ) : null}
      {axis.ticks.map((tick) => {
        const at = percent(axis, tick.value);
        const share = axis.scale(tick.value);
        return (
          <g key={tick.value}>
            <text x={at} y="32" textAnchor={share < 3 ? 'start' : share > 97 ? 'end' : 'middle'}>
              {tick.label}
            </text>
            <line data-tick={tick.value} x1={at} x2={at} y1="38" y2="44" stroke={paint['rule-strong']} />
          </g>
        );
      })}
    </svg>
  );
}

function Strip({ axis, row, reference }: { axis: Axis; row: IntervalRow; reference: number | undefined }) {
  const at = (value: number) => percent(axis, Math.min(axis.domain[1], Math.max(axis.domain[0], value)));
  return (
    <div className="relative h-7 @3xl:col-start-2 @3xl:row-span-2 @3xl:row-start-1 @3xl:h-auto @3xl:min-h-12 @3xl:self-stretch">
      <svg
        className="figure-svg absolute inset-0 size-full overflow-visible"
        aria-hidden="true"
        focusable="false"
      >
        {axis.ticks.map((tick) => (
          <line
            key={tick.value}
            data-gridline={tick.value}
            x1={at(tick.value)}
            x2={at(tick.value)}
            y1="0"
            y2="100%"
            stroke={paint.rule}
          />
        ))}
        {reference === undefined ? null : (
          <line
            x1={at(reference)}
            x2={at(reference)}
            y1="0"
            y2="100%"
            stroke={paint.ink}
            strokeDasharray="5 3"
          />
        )}
        <IntervalMark
          x={at}
          y="50%"
          domain={axis.domain}
          estimate={row.estimate}
          low={row.low}
          high={row.high}
          muted={row.muted}
          before={row.before?.value}
        />
      </svg>
    </div>
  );
}
