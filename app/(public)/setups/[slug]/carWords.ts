import type { SetupSession } from '@/lib/registry/setups/setup';

/** A car is shown as its tester, with the loop it stands on. */
export function carWords(sessions: readonly SetupSession[], key: string): string {
  const session = sessions.find((candidate) => candidate.carKey === key);
  return session === undefined ? 'car not shown' : `${session.car}, ${session.loopName}`;
}

export function dayWords(sessions: readonly SetupSession[], sessionId: string): string {
  return sessions.find((session) => session.sessionId === sessionId)?.date ?? '';
}
