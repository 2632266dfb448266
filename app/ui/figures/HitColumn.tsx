import type { PlotArea } from './plotArea';

interface HitColumnProps {
  area: PlotArea;
  x: number;
  row: number;
  /** Leaves the pointer only a strip of the area, where several panels lie one under the other. */
  width?: number;
}

/** An unseen upright strip: pointing at it, or stepping to it by keyboard, reads a row of the table out. */
export function HitColumn({ area, x, row, width = 10 }: HitColumnProps) {
  return (
    <rect
      data-row={row}
      x={area.x(x) - width / 2}
      y={area.top}
      width={width}
      height={area.bottom - area.top}
      fill="none"
      pointerEvents="all"
    />
  );
}
