import { describe, expect, it } from 'vitest';
import { auditSteps, trailRevisions, trailSteps } from '@/lib/protocol/runTrail';

const mira = { displayName: 'Mira Holm', slug: 'mira-holm' };
const ada = { displayName: 'Ada Quill', slug: 'ada-quill' };
const at = (hour: number) => new Date(Date.UTC(2026, 4, 14, hour));

const revision = (number: number, ...decisions: ('approve' | 'askChanges' | 'reject')[]) => ({
  number,
  submittedAt: at(number),
  submittedBy: mira,
  protocolVersion: { label: '1.0' },
  appeal: null,
  decisions: decisions.map((kind) => ({
    kind,
    note: 'Seen.',
    decidedAt: at(number + 10),
    round: 1,
    secondFor: [] as string[],
    reviewer: ada,
    reasons: [{ ruleId: 'wind', text: 'Too windy.' }],
  })),
});
const run = {
  status: 'approved' as const,
  revisions: [revision(1, 'askChanges'), revision(2, 'approve')],
  claims: [],
  retraction: null,
};
const statesOf = (of: Parameters<typeof trailSteps>[0]) => trailSteps(of).map(({ state }) => state);

describe('the trail of a run', () => {
  it('tells each submission and what was decided on it, oldest first', () => {
    const steps = trailSteps(run);
    expect(steps.map(({ label, by }) => [label, by.displayName])).toEqual([
      ['Submitted', 'Mira Holm'],
      ['Changes asked', 'Ada Quill'],
      ['Resubmitted, revision 2', 'Mira Holm'],
      ['Approved', 'Ada Quill'],
    ]);
    expect(steps[1]?.at).toBe(at(11).toISOString());
  });

  it('tells of a claim while the run waits and it holds, and of no other', () => {
    const claims = [
      { claimedAt: at(2), releasedAt: at(3), reviewer: mira },
      { claimedAt: at(4), releasedAt: null, reviewer: ada },
    ];
    const waiting = { ...run, revisions: [revision(1)], claims };
    expect(trailSteps({ ...waiting, status: 'submitted' }).at(-1)).toMatchObject({
      state: 'claimed',
      at: at(4).toISOString(),
      by: ada,
    });
    expect(statesOf({ ...waiting, status: 'approved' })).not.toContain('claimed');
    expect(statesOf({ ...waiting, status: 'submitted', claims: claims.slice(0, 1) })).toEqual(['submitted']);
  });

  it('ends with the retraction and its reason', () => {
    const retraction = { reason: 'The tyres were not those.', retractedAt: at(20), by: mira };
    expect(trailSteps({ ...run, status: 'retracted', retraction }).at(-1)).toMatchObject({
      state: 'retracted',
      note: 'The tyres were not those.',
    });
  });

  it('names the rules that a decision gave as its reasons', () => {
    const [first] = trailRevisions(run.revisions);
    expect(first?.decisions[0]?.reasons).toEqual([{ ruleId: 'wind', title: 'Calm air', text: 'Too windy.' }]);
  });
});

describe('the audit trail of a run', () => {
  it('is in words, and shows an action without words as it is stored', () => {
    const rows = ['run.submit', 'run.ofOld', 'constructor'].map((action, index) => ({
      id: BigInt(index),
      at: at(index),
      action,
      actor: index === 0 ? { displayName: 'Mira Holm' } : null,
    }));
    expect(auditSteps(rows).map(({ what, by }) => [what, by])).toEqual([
      ['Submitted', 'Mira Holm'],
      ['run.ofOld', 'the registry'],
      ['constructor', 'the registry'],
    ]);
  });
});
