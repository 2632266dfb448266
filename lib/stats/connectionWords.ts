import type { OrientedContrast } from './orientedContrast';

/** What joins two setups, and so what cancels in their difference (method B4). */
export function connectionWords(contrast: OrientedContrast | undefined): string {
  switch (contrast?.kind) {
    case 'session':
      return 'shared session: one car, one loop, one day for both';
    case 'car':
      return 'shared car: the same car on different days';
    case 'indirect':
      return `indirect: a chain of ${contrast.chainLength} shared cars`;
    case 'across':
      return 'across models: assumes the testers’ cars are a fair sample of their models';
    default:
      return 'no shared car';
  }
}

interface CarCounts {
  baselineCars: number;
  setupCars: number;
  /** What the protocol asks on each side across models. */
  leastCars: number;
}

/** Why a difference, or its interval, is not given; null where it is. */
export function refusalWords(contrast: OrientedContrast | undefined, cars: CarCounts): string | null {
  if (contrast === undefined) return 'This pair is not among the published differences.';
  switch (contrast.reason) {
    case null:
      return null;
    case 'no car has driven both':
      return 'No car has driven both, directly or through a chain of shared cars: what the setting does could not be told from what the car does.';
    case 'too few cars on one side':
      return `Across models the protocol asks for ${cars.leastCars} cars on each side; there are ${cars.baselineCars} and ${cars.setupCars}. With fewer, a difference between two cars could pass for one between two models.`;
    case 'repeatability unknown':
      return 'No setup of this class was driven twice in a session, so there is no interval yet.';
    case 'too few data':
      return 'Too few sessions stand behind this pair for an interval that could be relied on.';
    default:
      return contrast.reason;
  }
}
