/** From pasted station reports to the weather of a run: each report read, all together brought over the run's time. */
import { conditionsOver, type RunConditions } from './conditions';
import { splitReports } from './splitReports';
import { parseStationReport, type StationReport } from './stationReport';

export interface RunTimes {
  readonly startMs: number;
  readonly endMs: number;
  readonly stationDistanceM: number;
}

export interface ReadReport {
  readonly text: string;
  /** Null where it could not be read; `refusal` says why. */
  readonly report: StationReport | null;
  readonly refusal: string;
}

export interface ReportsOverRun {
  readonly reports: readonly ReadReport[];
  readonly conditions: RunConditions | null;
  /** Why there are no conditions; empty where there are. */
  readonly refusal: string;
}

const maxReports = 24;

export function reportsOverRun(text: string, times: RunTimes): ReportsOverRun {
  const parts = splitReports(text);
  if (parts.length === 0) return { reports: [], conditions: null, refusal: 'There is no report.' };
  if (parts.length > maxReports)
    return { reports: [], conditions: null, refusal: `At most ${maxReports} reports are read at a time.` };
  const reports = parts.map((part): ReadReport => {
    const parsed = parseStationReport(part, times.startMs);
    return parsed.ok
      ? { text: part, report: parsed, refusal: '' }
      : { text: part, report: null, refusal: parsed.message };
  });
  const read = reports.flatMap(({ report }) => (report === null ? [] : [report]));
  if (read.length === 0) return { reports, conditions: null, refusal: 'None of the reports could be read.' };
  const over = conditionsOver(read, times);
  return over.ok
    ? { reports, conditions: over, refusal: '' }
    : { reports, conditions: null, refusal: over.message };
}
