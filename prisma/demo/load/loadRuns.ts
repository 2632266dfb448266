import { seededRandom } from '@/lib/numerics/seededRandom';
import { reasonTemplate } from '@/lib/protocol/reasons';
import type { Outcome } from '@/lib/protocol/rule';
import type { Registry } from '@/lib/registry/registry';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { decideReReview } from '@/lib/registry/review/reReview';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { attachTrace } from '@/lib/registry/traces/attachTrace';
import type { RunForm } from '@/lib/run/runForm';
import { openReReviews } from '@/lib/store/reReviews';
import { findingsOf } from '@/lib/store/reviews';
import { runState } from '@/lib/store/runs';
import { drawPhoto } from '../photo/drawPhoto';
import { FAULT_RULES } from '../world/faults';
import { REVIEWERS } from '../world/people';
import type { DemoFault, DemoPhoto, DemoRun } from '../world/types';
import type { DemoEvent, DemoRunEvent } from './events';
import { type FleetIds, found } from './loadFleet';
import type { People } from './loadPeople';
import { registryAt } from './simulatedTime';

const MINUTE_MS = 60_000;

/** Lets the people of the demo world record, submit and review: each event is one use case at its own time. */
export class RunLoader {
  private readonly runIds = new Map<string, string>();
  private readonly draftVersions = new Map<string, number>();
  private readonly prepared = new Map<string, Promise<void>>();
  private secondApprovals = 0;
  /** Drafts are opened one after the other, so that runs are numbered in the order of their submission. */
  private lastDraft: Promise<void> = Promise.resolve();

  constructor(
    private readonly registry: Registry,
    private readonly people: People,
    private readonly fleet: FleetIds,
    /** By run: the recording that its tester sends with it. */
    private readonly recordings: ReadonlyMap<string, () => Uint8Array>,
  ) {}

  /**
   * Opens the draft of a coming first submission and adds its photos. Called some events ahead, so that pictures are
   * encoded while the database writes; what went wrong is told when the event itself is played.
   */
  prepare(event: DemoEvent | undefined): void {
    if (event?.kind !== 'submit' || event.revisionNumber !== 1 || this.prepared.has(event.run.key)) return;
    const { run, revision, at } = event;
    const draft = this.lastDraft.then(() => this.startDraft(at - 15 * MINUTE_MS, run, revision.form));
    const ready = draft.then(() => this.addPhotos(at, run, revision.photos));
    // a failure is waited for, and told, in `submit`
    this.lastDraft = draft.catch(() => undefined);
    ready.catch(() => undefined);
    this.prepared.set(run.key, ready);
  }

  async play(event: DemoRunEvent): Promise<void> {
    const { run } = event;
    const registry = registryAt(this.registry, event.at);
    switch (event.kind) {
      case 'draft':
        return this.startDraft(event.at, run, run.draftForm ?? {});
      case 'submit':
        return this.submit(registry, event);
      case 'claim':
        return claimRun(registry, found(this.people, event.review.reviewerKey), {
          runId: found(this.runIds, run.key),
        });
      case 'decide':
        return this.decide(registry, event);
      case 'retract':
        return retractRun(registry, found(this.people, run.testerKey), {
          runId: found(this.runIds, run.key),
          reason: event.reason,
        });
    }
  }

  private async startDraft(at: number, run: DemoRun, form: RunForm): Promise<void> {
    const draft = await startDraft(registryAt(this.registry, at), found(this.people, run.testerKey), {
      creationKey: run.key,
      form: this.withIds(run, form),
    });
    this.runIds.set(run.key, draft.runId);
    this.draftVersions.set(run.key, draft.draftVersion);
  }

  private async submit(registry: Registry, event: DemoRunEvent & { kind: 'submit' }): Promise<void> {
    const { run, revision } = event;
    if (event.revisionNumber === 1) {
      this.prepare(event);
      await this.prepared.get(run.key);
    } else {
      await this.addPhotos(event.at, run, revision.photos);
    }
    await this.addRecording(event.at, run);
    const draftVersion = found(this.draftVersions, run.key);
    await submitRun(registry, found(this.people, run.testerKey), {
      runId: found(this.runIds, run.key),
      draftVersion,
      form: this.withIds(run, revision.form),
    });
    // a submission counts the draft up by one, so that a second window cannot submit the old one
    this.draftVersions.set(run.key, draftVersion + 1);
  }

  /** Adds the photos in the minutes before a submission, in their order. */
  private async addPhotos(submittedAt: number, run: DemoRun, photos: readonly DemoPhoto[]): Promise<void> {
    const tester = found(this.people, run.testerKey);
    const runId = found(this.runIds, run.key);
    await Promise.all(
      photos.map((photo, index) =>
        addEvidence(registryAt(this.registry, submittedAt - (10 - index) * MINUTE_MS), tester, {
          runId,
          kind: photo.kind,
          bytes: drawPhoto(photo),
        }),
      ),
    );
  }

  private async addRecording(submittedAt: number, run: DemoRun): Promise<void> {
    const bytes = this.recordings.get(run.key)?.();
    if (bytes === undefined) return;
    await attachTrace(
      registryAt(this.registry, submittedAt - 5 * MINUTE_MS),
      found(this.people, run.testerKey),
      {
        runId: found(this.runIds, run.key),
        fileName: `${run.startedAt.slice(0, 10)}.gpx`,
        bytes,
      },
    );
  }

  private async decide(registry: Registry, event: DemoRunEvent & { kind: 'decide' }): Promise<void> {
    const { run, revision, review, revisionNumber } = event;
    const runId = found(this.runIds, run.key);
    const reasons = review.kind === 'approve' ? [] : await this.reasons(registry, runId, revision.fault);
    const decision = { runId, revisionNumber, kind: review.kind, reasons };
    const outcome = await decideReview(registry, found(this.people, review.reviewerKey), {
      ...decision,
      note: review.note,
    });
    if (outcome !== 'approveFirst') return this.readAgain(event, runId);
    const later = registryAt(this.registry, event.at + MINUTE_MS);
    const second = this.anotherReviewer(review.reviewerKey);
    await claimRun(later, second, { runId });
    await decideReview(later, second, { ...decision, note: '' });
    await this.readAgain(event, runId);
  }

  /** Where the decision was drawn: another reviewer, who sees it differently one time in eight. */
  private async readAgain(
    { at, run, review }: DemoRunEvent & { kind: 'decide' },
    runId: string,
  ): Promise<void> {
    for (const { key } of REVIEWERS) {
      const reader = found(this.people, key);
      const drawn = await openReReviews(this.registry.db, { reviewerId: reader.accountId, runId });
      if (drawn.length === 0) continue;
      const differs = seededRandom(Number(run.key.replace(/\D/g, '')) + at).nextUniform() < 1 / 8;
      const other = review.kind === 'approve' ? 'askChanges' : 'approve';
      await decideReReview(registryAt(this.registry, at + 5 * MINUTE_MS), reader, {
        runId,
        kind: differs ? other : review.kind,
        note: 'Read off the photos again.',
      });
      return;
    }
  }

  /** By turns, for the second of two approvals. */
  private anotherReviewer(firstKey: string) {
    const others = REVIEWERS.filter(({ key }) => key !== firstKey);
    this.secondApprovals += 1;
    return found(this.people, others[this.secondApprovals % others.length]?.key ?? firstKey);
  }

  /** A reason for every rule that failed, and one for the rule that the planted fault breaks. */
  private async reasons(registry: Registry, runId: string, fault: DemoFault | undefined) {
    const state = await runState(registry.db, runId);
    const findings = await findingsOf(registry.db, state?.revisions[0]?.id ?? '');
    const broken = fault === undefined ? undefined : FAULT_RULES[fault];
    return findings
      .filter((finding) => finding.outcome === 'fail' || finding.ruleId === broken)
      .map(({ ruleId, outcome, sentence }) => ({
        ruleId,
        text: reasonTemplate({ ruleId, outcome: outcome satisfies Outcome, numbers: [], sentence }),
      }));
  }

  private withIds(run: DemoRun, form: RunForm): RunForm {
    return {
      ...form,
      carId: found(this.fleet.cars, run.carKey),
      setupId: found(this.fleet.setups, run.setupKey),
      loopId: found(this.fleet.loops, run.loopKey),
    };
  }
}
