import { Link } from '../Link';
import { type Axis, linearAxis } from './axis';
import type { FigureDescription } from './description';
import { IntervalMark } from './IntervalMark';
import { bracketed, type IntervalRow } from './intervalRow';
import { type IntervalData, withLanes } from './kinds/interval';
import { paint } from './paint';

/** No width depends on what stands in a row: the axis on top and the strips of all rows then share one scale. */
const columns = '@3xl:grid @3xl:grid-cols-[minmax(12rem,19rem)_minmax(0,1fr)_14rem] @3xl:gap-x-5';

/** From one upright bar to the next, rem. */
const BAND_STEP = 0.4;

/**
 * Estimates and intervals on one common axis. Labels, numbers and counts are page text; each row
 * carries its own strip, placed by percent, so nothing is scaled and everything can be read aloud.
 * A row takes two lines of small letters at most where there is room beside each other; the axis stays in view.
 */
export function IntervalPlot(data: Omit<IntervalData, 'kind'> & Pick<FigureDescription, 'mark'>) {
  const { rows, label, unit, reference, ordered = true } = data;
  const axis = linearAxis({
    values: [
      ...rows.flatMap((row) => [row.estimate, row.low ?? row.estimate, row.high ?? row.estimate]),
      ...rows.flatMap((row) => [row.outerLow ?? row.estimate, row.outerHigh ?? row.estimate]),
      ...rows.flatMap((row) => row.strokes ?? []),
      ...rows.flatMap((row) => (row.before ? [row.before.value] : [])),
      ...(reference ? [reference.value] : []),
    ],
    domain: data.domain,
    range: [0, 100],
    tickCount: 5,
    formatTick: data.formatTick,
    mark: data.mark,
  });
  const bands = withLanes(data.bands);
  const lanes = Math.max(0, ...bands.map(({ lane }) => lane + 1));
  const inset = { paddingLeft: lanes === 0 ? undefined : `${lanes * BAND_STEP + 0.4}rem` };
  const List = ordered ? 'ol' : 'ul';
  return (
    <div className="@container">
      <div
        aria-hidden="true"
        style={inset}
        className={`${columns} sticky top-0 z-10 items-end bg-paper text-sm text-ink-soft print:static`}
      >
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
            style={inset}
            className={`${columns} relative items-center border-b border-rule last:border-b-0`}
          >
            {bands.map(({ from, to, lane }) =>
              index < from || index > to ? null : (
                <span
                  key={lane}
                  aria-hidden="true"
                  style={{ left: `${lane * BAND_STEP}rem` }}
                  className={`fc-solid absolute w-[3px] bg-ink ${index === from ? 'top-1.5' : '-top-px'} ${index === to ? 'bottom-1.5' : 'bottom-0'}`}
                />
              ),
            )}
            <RowName row={row} />
            <Strip axis={axis} row={row} reference={reference?.value} />
            <RowNumbers row={row} unit={unit} />
            {row.counts || row.rank || row.caveat ? (
              <p className="num flex flex-wrap gap-x-4 pb-1.5 text-xs text-ink-soft @3xl:col-start-1 @3xl:row-start-2 @3xl:block @3xl:self-start @3xl:*:block">
                {row.rank ? <span className="text-ink">{row.rank}</span> : null}
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

/** Below the axis, which stays in view: what the keyboard reaches is not to hide under it. */
const rowLink = 'link scroll-mt-16';

function RowName({ row }: { row: IntervalRow }) {
  return (
    <div className="min-w-0 pt-2 @3xl:col-start-1 @3xl:py-0.5 @3xl:text-sm @3xl:leading-5">
      <span className="block font-semibold @3xl:truncate" title={row.label}>
        {row.href ? (
          <Link href={row.href} className={`${rowLink} text-ink`}>
            {row.label}
          </Link>
        ) : (
          row.label
        )}
      </span>
      {row.detail ? (
        <span
          className="num block text-sm text-ink-soft @3xl:truncate @3xl:text-xs @3xl:leading-4.5"
          title={row.detail}
        >
          {row.detail}
        </span>
      ) : null}
    </div>
  );
}

function RowNumbers({ row, unit }: { row: IntervalRow; unit: string }) {
  return (
    <div className="num pb-1.5 text-sm @3xl:col-start-3 @3xl:row-span-2 @3xl:row-start-1 @3xl:py-0.5 @3xl:text-right @3xl:leading-5">
      <span className="font-semibold whitespace-nowrap">
        {row.text} <span className="font-normal @3xl:sr-only">{unit}</span>
      </span>{' '}
      {row.intervalText ? (
        <span className="text-ink-soft">
          <span className="sr-only">95 % interval </span>
          {bracketed(row.intervalText)}
        </span>
      ) : null}
      {row.before ? <span className="block text-ink-soft">{row.before.text}</span> : null}
      {row.against ? (
        <span className="block text-ink-soft @3xl:text-xs @3xl:leading-4.5">
          {row.against.href ? (
            <Link href={row.against.href} className={rowLink}>
              {row.against.text}
              <span className="sr-only">
                {row.against.more}: {row.label}
              </span>
            </Link>
          ) : (
            row.against.text
          )}
        </span>
      ) : null}
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

/** Words at a share of the axis: those near an end run inwards. */
const anchorAt = (share: number, reach: number) =>
  share < reach ? 'start' : share > 100 - reach ? 'end' : 'middle';

function AxisLabels({ axis, unit, reference }: AxisLabelsProps) {
  const share = reference ? axis.scale(reference.value) : 100;
  return (
    <svg
      className="figure-svg block h-11 w-full overflow-visible @3xl:col-start-2"
      fontSize="13"
      fill={paint['ink-soft']}
      aria-hidden="true"
      focusable="false"
    >
      <text x={share > 50 ? '0' : '100%'} y="12" textAnchor={share > 50 ? 'start' : 'end'}>
        {unit}
      </text>
      {reference ? (
        <text x={percent(axis, reference.value)} y="12" textAnchor={anchorAt(share, 25)} fill={paint.ink}>
          {reference.label}
        </text>
      ) : null}
      {axis.ticks.map((tick) => {
        const at = percent(axis, tick.value);
        return (
          <g key={tick.value}>
            <text x={at} y="32" textAnchor={anchorAt(axis.scale(tick.value), 3)}>
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
    <div className="relative h-7 @3xl:col-start-2 @3xl:row-span-2 @3xl:row-start-1 @3xl:h-auto @3xl:min-h-9 @3xl:self-stretch">
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
          outerLow={row.outerLow}
          outerHigh={row.outerHigh}
          strokes={row.strokes}
          muted={row.muted}
          before={row.before?.value}
        />
      </svg>
    </div>
  );
}
