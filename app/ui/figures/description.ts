import type { Display } from '@/lib/units/display';
import type { FigureAddress } from './figureAddress';
import type { BarsData } from './kinds/bars';
import type { BudgetData } from './kinds/budget';
import type { DensityData } from './kinds/density';
import type { ForestData } from './kinds/forest';
import type { HistogramData } from './kinds/histogram';
import type { IntervalData } from './kinds/interval';
import type { MandelData } from './kinds/mandel';
import type { MapData } from './kinds/map';
import type { OpenBandData } from './kinds/openBand';
import type { PairsData } from './kinds/pairs';
import type { ProfileData } from './kinds/profile';
import type { RoseData } from './kinds/rose';
import type { ScatterData } from './kinds/scatter';
import type { SessionsData } from './kinds/sessions';
import type { SpreadData } from './kinds/spread';
import type { WaterfallData } from './kinds/waterfall';
import type { WaysData } from './kinds/ways';

export type FigureDrawing =
  | BarsData
  | BudgetData
  | DensityData
  | ForestData
  | HistogramData
  | IntervalData
  | MandelData
  | MapData
  | OpenBandData
  | PairsData
  | ProfileData
  | RoseData
  | ScatterData
  | SessionsData
  | SpreadData
  | WaterfallData
  | WaysData;

/** Nothing can be drawn, and why. The table may still say much. */
export interface NoDrawing {
  kind: 'none';
  why: string;
}

export interface CellLink {
  text: string;
  href: string;
}

/** As it is to be read: words or a displayed number, which a CSV file takes as a number. */
export type TwinCell = string | CellLink | readonly CellLink[];

/** The numbers of a figure as a table. A mark's read-out is its row here. */
export interface TwinTable {
  caption: string;
  /** The first column names the row. */
  columns: readonly { header: string; unit?: string; align?: 'start' | 'end' }[];
  rows: readonly (readonly TwinCell[])[];
}

/**
 * All that a figure says, as plain data. The page's drawing with its read-out, the table, the SVG and PNG files, the
 * CSV and the share image are all made from this and from nothing else.
 */
export interface FigureDescription {
  /** Where its files lie. Left out where only its reader may see it. */
  address?: FigureAddress;
  /** A sentence that says what it shows. */
  title: string;
  /** For those who cannot see it: the same at more length. */
  desc: string;
  /** How to read it: what a mark, a bar, a band stands for. */
  reading?: string;
  /** What it rests on: "212 runs · 14 setups". */
  counts: string;
  /** The page that it belongs to, and the day as of which it holds. */
  source: { path: string; asOf: string };
  isDemo: boolean;
  /** The reader's decimal mark, for the numbers along an axis. */
  mark: Display['mark'];
  drawing: FigureDrawing | NoDrawing;
  table: TwinTable;
}

export function cellText(cell: TwinCell): string {
  if (typeof cell === 'string') return cell;
  return 'text' in cell ? cell.text : cell.map(({ text }) => text).join(', ');
}
