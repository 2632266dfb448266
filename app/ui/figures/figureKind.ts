import type { LegendItem } from './Legend';
import type { Drawing, Frame } from './ResponsiveSvg';

/** How one kind of figure is drawn, on a page and in a file alike. */
export interface FigureKind<Data> {
  draw: (frame: Frame, data: Data) => Drawing;
  legend: (data: Data) => LegendItem[];
  /** For kinds with rows: the same figure with its first rows only, where a picture has no room for all. */
  rows?: {
    count: (data: Data) => number;
    first: (data: Data, count: number) => Data;
  };
}
