import { describe, expect, it } from 'vitest';
import {
  PUBLIC_RUN_STATUSES,
  RUN_STATUS_LABELS,
  RUN_STATUSES,
  type RunEvent,
  type RunStatus,
  statusAfter,
  statusesAllowing,
} from '@/lib/run/runStatus';

const EVENTS: readonly RunEvent[] = [
  'submit',
  'withdraw',
  'approve',
  'askChanges',
  'reject',
  'retract',
  'supersede',
  'appeal',
];

/** The states of a run as the product's description gives them; every other pair is refused. */
const WAYS: ReadonlyMap<string, RunStatus> = new Map([
  ['draft submit', 'submitted'],
  ['submitted withdraw', 'draft'],
  ['submitted approve', 'approved'],
  ['submitted askChanges', 'changesAsked'],
  ['submitted reject', 'rejected'],
  ['changesAsked submit', 'submitted'],
  ['rejected appeal', 'submitted'],
  ['approved retract', 'retracted'],
  ['approved supersede', 'superseded'],
]);

const PAIRS = RUN_STATUSES.flatMap((status) => EVENTS.map((event) => [status, event] as const));

describe('the states of a run', () => {
  it.each(PAIRS)('%s, on %s', (status, event) => {
    const next = WAYS.get(`${status} ${event}`);
    expect(statusAfter(status, event)).toBe(next);
    expect(statusesAllowing(event).includes(status)).toBe(next !== undefined);
  });

  it('are all reached from a draft', () => {
    const reached = new Set<RunStatus>(['draft']);
    for (const status of reached) {
      for (const event of EVENTS) {
        const next = statusAfter(status, event);
        if (next !== undefined) reached.add(next);
      }
    }
    expect([...reached].sort()).toEqual([...RUN_STATUSES].sort());
  });

  it('end in retracted and superseded', () => {
    const ends = RUN_STATUSES.filter((status) =>
      EVENTS.every((event) => statusAfter(status, event) === undefined),
    );
    expect(ends).toEqual(['retracted', 'superseded']);
  });

  it('never leave the public record once approved', () => {
    for (const status of PUBLIC_RUN_STATUSES) {
      for (const event of EVENTS) {
        const next = statusAfter(status, event);
        if (next !== undefined) expect(PUBLIC_RUN_STATUSES).toContain(next);
      }
    }
    for (const hidden of ['draft', 'submitted', 'changesAsked', 'rejected'] as const) {
      expect(PUBLIC_RUN_STATUSES).not.toContain(hidden);
    }
  });

  it('have a label each, all different', () => {
    expect(Object.keys(RUN_STATUS_LABELS).sort()).toEqual([...RUN_STATUSES].sort());
    expect(new Set(Object.values(RUN_STATUS_LABELS)).size).toBe(RUN_STATUSES.length);
  });
});
