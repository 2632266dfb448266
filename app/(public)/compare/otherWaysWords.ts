import { percentOf } from '@/lib/stats/orientedContrast';
import type { CarsLeftOut, OtherWays, Way } from '@/lib/stats/otherWays/way';
import { endsText, percentText } from './words';

const WAY_WORDS: Readonly<Record<Way, string>> = {
  asMeasured: 'As measured, nothing adjusted',
  withoutWind: 'Without the step for wind',
  withoutAir: 'Without the steps for air and temperature',
  sameSession: 'Same-session pairs only',
  loopFixed: 'Each loop with an effect of its own',
  withoutStragglers: 'Without stragglers',
  withoutRetrospective: 'Without runs recorded afterwards',
  withoutDenseTraffic: 'Without runs in dense traffic',
  trafficFixed: 'Traffic with an effect of its own',
};

export const wayText = (way: Way) => WAY_WORDS[way];

export const CARS_WORDS = 'Each car left out in turn';

/** Why a way is not drawn: nothing to leave out, or no answer for this pair. */
export function notDrawnText({ ways, same }: OtherWays): string[] {
  const none = ways.filter(({ difference }) => difference === null).map(({ way }) => way);
  const listed = (found: readonly Way[]) => found.map((way) => WAY_WORDS[way].toLowerCase()).join('; ');
  return [
    ...(same.length === 0
      ? []
      : [`The same as published, since no run of the class is concerned: ${listed(same)}.`]),
    ...(none.length === 0 ? [] : [`No answer for this pair: ${listed(none)}.`]),
  ];
}

/** In how many of the ways the sign holds, and the span of the differences. */
export function signSentence(percent: number, { ways, carsLeftOut }: OtherWays): string {
  const found = ways.flatMap(({ difference }) => (difference === null ? [] : [percentOf(difference)]));
  const side = percent < 0 ? 'less' : 'more';
  const same = found.filter((other) => other < 0 === percent < 0).length;
  const sentences: string[] = [];
  const [only] = found;
  if (found.length === 1 && only !== undefined) {
    sentences.push(
      `Computed one other way it is ${only < 0 ? 'less' : 'more'}${same === 1 ? ' too' : ''}: ${percentText(only)}.`,
    );
  } else if (found.length > 1) {
    const inHowMany = same === found.length ? `all ${found.length}` : `${same} of ${found.length}`;
    const span = endsText([Math.min(...found), Math.max(...found)]);
    sentences.push(`Computed ${found.length} other ways it is ${side} in ${inHowMany}, from ${span} %.`);
  }
  if (carsLeftOut !== null) sentences.push(carsSentence(side, carsLeftOut));
  return sentences.length === 0 ? 'There is no other way to compute this pair.' : sentences.join(' ');
}

function carsSentence(side: string, { cars, answered, sameSign, low, high }: CarsLeftOut): string {
  const span = endsText([percentOf(low), percentOf(high)]);
  const held = sameSign === answered ? `stays ${side}` : `is ${side} in ${sameSign} of ${answered} cases`;
  const missing = cars - answered;
  const rest =
    missing === 0
      ? ''
      : ` Without ${missing === 1 ? 'one of them' : `any one of ${missing} of them`} there is nothing left to compare.`;
  return `With each of ${cars} cars left out in turn it ${held}, from ${span} %.${rest}`;
}
