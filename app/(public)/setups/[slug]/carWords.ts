import type { SetupSession, ShownCar } from '@/lib/registry/setups/setupSessions';

/** A car is shown as its tester, with the loop it stands on. */
export function carWords(cars: readonly ShownCar[], key: string): string {
  const found = cars.find((candidate) => candidate.carKey === key);
  return found === undefined ? 'car not shown' : `${found.car}, ${found.loopName}`;
}

export function dayWords(sessions: readonly SetupSession[], sessionId: string): string {
  return sessions.find((session) => session.sessionId === sessionId)?.date ?? '';
}
