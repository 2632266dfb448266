import type { FormatTick } from '../axis';
import type { FigureKind } from '../figureKind';
import { HitColumn } from '../HitColumn';
import { paint } from '../paint';
import { type PlotArea, pathOf, plotArea } from '../plotArea';
import type { Frame } from '../ResponsiveSvg';
import { AnchoredText } from '../rowChart';
import { textWidth } from '../textFit';

export interface ProfilePanel {
  key: string;
  /** Quantity and unit: "True speed, km/h". */
  label: string;
  /** Thinned by the caller to what a screen can show. */
  points: readonly { distance: number; value: number }[];
  domain?: readonly [number, number];
  formatValue?: FormatTick;
  /** A band the values should keep to, such as the cruise class ± 3 km/h. */
  band?: { low: number; high: number };
  /** Fill down to the axis: for elevation. */
  filled?: boolean;
}

export interface ProfileMarker {
  distance: number;
  label: string;
}

/** Speed, elevation or power along the distance driven, one panel under the other. */
export interface ProfileData {
  kind: 'profile';
  panels: readonly ProfilePanel[];
  /** Start, turnaround, finish and the like. */
  markers?: readonly ProfileMarker[];
  /** Stretches that are not cruise, shaded through every panel. */
  offCruise?: readonly { from: number; to: number }[];
  distanceLabel: string;
  distanceDomain?: readonly [number, number];
  formatDistance?: FormatTick;
  /** Distances that the table has, row by row. */
  tabulated?: readonly number[];
}

export const profile: FigureKind<ProfileData> = { draw: drawProfile, legend: () => [] };

function drawProfile(frame: Frame, data: ProfileData) {
  const { panels, markers = [], offCruise = [], tabulated = [] } = data;
  const xValues = panels.flatMap((panel) => panel.points.map((point) => point.distance));
  const xDomain = data.distanceDomain ?? [Math.min(...xValues), Math.max(...xValues)];
  let top = markers.length > 0 ? frame.text + 8 : 0;
  // What a panel takes besides its plane: its words above it, those of the axis under the last.
  const panelHeight =
    frame.room === undefined
      ? frame.compact
        ? 100
        : 130
      : Math.max(90, (frame.room - top - 2 * frame.text) / panels.length - frame.text - 34);
  const areas: { panel: ProfilePanel; area: PlotArea }[] = panels.map((panel, index) => {
    const values = panel.points.map((point) => point.value);
    const area = plotArea(frame, {
      xValues,
      xDomain,
      yValues: panel.band ? [...values, panel.band.low, panel.band.high] : values,
      yDomain: panel.domain,
      xLabel: index === panels.length - 1 ? data.distanceLabel : undefined,
      yLabel: panel.label,
      formatX: data.formatDistance,
      formatY: panel.formatValue,
      top,
      height: panelHeight,
      yTickCount: 4,
      yPad: 0,
    });
    top = area.end + 4;
    return { panel, area };
  });
  const last = areas[areas.length - 1]?.area;
  const content = (
    <>
      {areas.map(({ panel, area }) => (
        <g key={panel.key}>
          {offCruise.map((stretch) => (
            <rect
              key={stretch.from}
              x={area.x(stretch.from)}
              y={area.top}
              width={Math.max(1, area.x(stretch.to) - area.x(stretch.from))}
              height={area.bottom - area.top}
              fill={paint.wash}
            />
          ))}
          {panel.band ? (
            <rect
              x={area.left}
              y={area.y(panel.band.high)}
              width={area.right - area.left}
              height={area.y(panel.band.low) - area.y(panel.band.high)}
              fill={paint['accent-wash']}
              stroke={paint.accent}
              strokeWidth=".5"
            />
          ) : null}
          {area.ground}
          <PanelLine panel={panel} area={area} />
          {tabulated.map((distance, row) => (
            <HitColumn key={distance} area={area} x={distance} row={row} />
          ))}
        </g>
      ))}
      <MarkerLines markers={markers} areas={areas.map(({ area }) => area)} frame={frame} />
    </>
  );
  return { height: last?.end ?? 0, content };
}

function PanelLine({ panel, area }: { panel: ProfilePanel; area: PlotArea }) {
  const line = pathOf(panel.points.map((point) => ({ x: area.x(point.distance), y: area.y(point.value) })));
  const firstX = area.x(panel.points[0]?.distance ?? 0).toFixed(1);
  const lastX = area.x(panel.points[panel.points.length - 1]?.distance ?? 0).toFixed(1);
  return (
    <>
      {panel.filled && panel.points.length > 1 ? (
        <path d={`${line}L${lastX} ${area.bottom}L${firstX} ${area.bottom}Z`} fill={paint.wash} />
      ) : null}
      <path
        d={line}
        fill="none"
        stroke={panel.filled ? paint.ink : paint.accent}
        strokeWidth="1.5"
        strokeLinejoin="round"
      />
    </>
  );
}

interface MarkerLinesProps {
  markers: readonly ProfileMarker[];
  areas: readonly PlotArea[];
  frame: Frame;
}

/** Words over the first panel, a dashed line in each; a word that would touch the one before is left out. */
function MarkerLines({ markers, areas, frame }: MarkerLinesProps) {
  const [first] = areas;
  if (!first) return null;
  let free = Number.NEGATIVE_INFINITY;
  return (
    <>
      {markers.map((marker) => {
        const x = first.x(marker.distance);
        const half = textWidth(marker.label, frame.text) / 2;
        const middle = Math.min(frame.width - half, Math.max(half, x));
        const fits = middle - half > free + 6;
        if (fits) free = middle + half;
        return (
          <g key={`${marker.distance} ${marker.label}`}>
            <path
              d={areas.map((area) => `M${x} ${area.top}V${area.bottom}`).join('')}
              stroke={paint.ink}
              strokeDasharray="3 3"
            />
            {fits ? (
              <AnchoredText x={x} y={frame.text} width={frame.width} text={marker.label} size={frame.text} />
            ) : null}
          </g>
        );
      })}
    </>
  );
}
