import type { TraceColumns } from './csvTrace';
import type { LoopMatch } from './loopMatch';
import type { TimeWindow } from './loopWindow';
import type { ReducedTrace } from './reduction';
import type { Place } from './route';

/** Where it was, for its tester and reviewers only. */
export interface TracePlaces {
  start: Place;
  finish: Place;
  turnaround: Place | null;
  /** The way out, thinned. */
  outline: Place[];
}

/** What is kept of a recording beside the file itself. Written by this room alone, as JSON. */
export interface StoredTrace {
  /** Of a CSV: which column meant what. */
  columns: TraceColumns | null;
  /** The part of the recording that is the run; null for all of it. */
  window: TimeWindow | null;
  /** Parts that look like a run each. */
  windows: TimeWindow[];
  trimM: number;
  /** The class that the share within the band was worked out for. */
  cruiseClassKey: string | null;
  places: TracePlaces;
  /** Against earlier recordings on the loop; null where there are none. */
  loopMatch: LoopMatch | null;
  /** Points that could not be read at all, by reason. */
  refusedPoints: { reason: string; count: number }[];
  fileNotes: string[];
  reduction: Omit<ReducedTrace, 'excluded' | 'matches' | 'proposal'>;
}
