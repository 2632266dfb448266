import type { ReactNode } from 'react';
import { Notice } from './Notice';

export type SafetySetting = 'record' | 'field' | 'plan' | 'study' | 'estimate';

const law =
  'Posted limits and local law come first. If the loop does not allow the planned speed, do not drive it.';
const limits = 'Posted limits and local law come first, whatever speed is asked here.';
const parked = 'Enter numbers only while parked, or have a passenger enter them.';
const gap = 'Keep a safe gap to the vehicle ahead. Following closely is dangerous and spoils the run.';
const slow = 'Never hold up traffic by driving slowly. Leave the motorway rather than block it.';
const tyres = 'Keep tyre pressures within the range on the vehicle placard, whatever the test asks.';
const aids = 'Driving aids do not replace the driver. Watch the road.';
const estimate = 'Results are estimates under the stated conditions. They do not promise a range.';

const reserve = 'Arrive with a reserve: a closed road, a broken charger or a cold night is in no estimate.';

const titles: Record<SafetySetting, string> = {
  record: 'Enter readings parked, or let a passenger do it',
  field: 'Parked or passenger only',
  plan: 'Plan a drive that is safe and lawful first, and a test second',
  study: 'Driven within posted limits; estimates, not promises',
  estimate: 'An estimate under these conditions, never a promise',
};
const points: Record<SafetySetting, readonly string[]> = {
  record: [parked, law, gap, tyres],
  field: [parked, law, gap, aids],
  plan: [law, slow, gap, tyres, aids],
  study: [law, slow, estimate],
  estimate: [reserve, limits],
};

/** The cautions that belong to one kind of page. */
export function SafetyCaution({ kind, children }: { kind: SafetySetting; children?: ReactNode }) {
  return (
    <Notice kind="caution" title={titles[kind]}>
      <SafetyPoints kind={kind} />
      {children}
    </Notice>
  );
}

export function SafetyPoints({ kind }: { kind: SafetySetting }) {
  return (
    <ul className="space-y-1">
      {points[kind].map((point) => (
        <li key={point}>{point}</li>
      ))}
    </ul>
  );
}
