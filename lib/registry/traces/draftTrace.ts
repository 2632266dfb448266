import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import type { TimeWindow } from '@/lib/capture/trace/loopWindow';
import type { StoredTrace } from '@/lib/capture/trace/storedTrace';
import { type TraceOffer, traceOffers } from '@/lib/capture/trace/traceOffers';
import { NotFound } from '@/lib/run/errors';
import { wallClockWords } from '@/lib/run/localDate';
import { parseLocalStart } from '@/lib/run/localStart';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { type RunStatus, statusAfter } from '@/lib/run/runStatus';
import { runState } from '@/lib/store/runs';
import { traceOfDraft } from '@/lib/store/traces';
import type { Registry } from '../registry';

export interface DraftTraceView {
  runId: string;
  number: number;
  status: RunStatus;
  isEditable: boolean;
  draftVersion: number;
  /** Null where there is none, and where what was kept of it cannot be read. */
  trace: DraftTrace | null;
  /** Of a recording that is there but cannot be read. */
  unreadableFile: string | null;
}

export interface DraftTrace {
  fileName: string;
  format: string;
  uploadedAt: string;
  pointsRead: number;
  pointsUsed: number;
  distanceM: number;
  durationS: number;
  turnaround: { distanceM: number; elapsedS: number } | null;
  stops: { count: number; durationS: number };
  speedSource: string;
  /** Parts that look like runs, with local times; empty where all of it is one. */
  parts: { window: TimeWindow; start: string; durationS: number; isChosen: boolean }[];
  isWhole: boolean;
  trimM: number;
  hiddenPoints: number;
  isOnKnownLoop: boolean | null;
  notes: string[];
  offers: TraceOffer[];
}

/** A draft's recording and what it knows for the form, for its tester only. */
export async function draftTrace(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<DraftTraceView> {
  const run = await runState(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const row = await traceOfDraft(registry.db, runId);
  const form = run.draft;
  return {
    runId,
    number: run.number,
    status: run.status,
    isEditable: statusAfter(run.status, 'submit') !== undefined,
    draftVersion: run.draftVersion,
    unreadableFile: row?.contents === null ? row.fileName : null,
    trace: row?.contents
      ? {
          fileName: row.fileName,
          format: row.format,
          uploadedAt: row.uploadedAt.toISOString(),
          pointsRead: row.pointsRead,
          pointsUsed: row.pointsUsed,
          hiddenPoints: row.contents.track.removed,
          ...figuresOf(row.contents.stored, form, registry.now()),
        }
      : null,
  };
}

function figuresOf(
  stored: StoredTrace,
  form: RunForm,
  now: Date,
): Omit<DraftTrace, 'fileName' | 'format' | 'uploadedAt' | 'pointsRead' | 'pointsUsed' | 'hiddenPoints'> {
  const { reduction, window } = stored;
  const start = parseLocalStart(form.startedAtLocal ?? '', form.utcOffsetMin ?? '', now.toISOString(), []);
  const offsetMin = start?.utcOffsetMin ?? 0;
  return {
    distanceM: reduction.distanceM,
    durationS: reduction.durationS,
    turnaround: reduction.turnaround && {
      distanceM: reduction.turnaround.distanceM,
      elapsedS: reduction.turnaround.elapsedS,
    },
    stops: {
      count: reduction.stops.length,
      durationS: reduction.stops.reduce((sum, stop) => sum + stop.durationS, 0),
    },
    speedSource: reduction.speedSource,
    parts: stored.windows.map((part) => ({
      window: part,
      start: `${wallClockWords(part.startMs, offsetMin)}${start ? '' : ' UTC'}`,
      durationS: (part.endMs - part.startMs) / 1000,
      isChosen: part.startMs === window?.startMs && part.endMs === window.endMs,
    })),
    isWhole: window === null,
    trimM: stored.trimM,
    isOnKnownLoop: stored.loopMatch?.isMatch ?? null,
    notes: [...stored.fileNotes, ...reduction.notes],
    offers: traceOffers(stored, form),
  };
}
