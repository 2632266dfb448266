import { endsText, percentText } from '@/lib/answers/differenceText';
import { percentOf } from '@/lib/stats/orientedContrast';
import type { CarsLeftOut, OtherWays, Way } from '@/lib/stats/otherWays/way';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';

const WAY_WORDS: Readonly<Record<Way, string>> = {
  asMeasured: 'As measured, nothing adjusted',
  withoutWind: 'Without the step for wind',
  withoutAir: 'Without the steps for air and temperature',
  sameSession: 'Same-session pairs only',
  loopFixed: 'With a level of its own for each loop',
  withoutStragglers: 'Without runs that stand out',
  withoutRetrospective: 'Without runs recorded afterwards',
  withoutDenseTraffic: 'Without runs in dense traffic',
  trafficFixed: 'With a level of its own for dense traffic',
};

export const wayText = (way: Way) => WAY_WORDS[way];

export const CARS_WORDS = 'Each car left out in turn';

/** Why a way is not drawn: nothing to leave out, or no answer for this pair. */
export function notDrawnText({ ways, same }: OtherWays, runsOf = 'the class'): string[] {
  const none = ways.filter(({ difference }) => difference === null).map(({ way }) => way);
  const listed = (found: readonly Way[]) => found.map((way) => WAY_WORDS[way].toLowerCase()).join('; ');
  return [
    ...(same.length === 0
      ? []
      : [`These ways change nothing, as no run of ${runsOf} is affected: ${listed(same)}.`]),
    ...(none.length === 0 ? [] : [`No answer for this pair: ${listed(none)}.`]),
  ];
}

/** In how many of the ways the sign holds, and the span of the differences. */
export function signSentence(
  percent: number,
  { ways, carsLeftOut }: OtherWays,
  display: Display,
  place: number,
): string {
  const found = ways.flatMap(({ difference }) => (difference === null ? [] : [percentOf(difference)]));
  const sideOf = (of: number) =>
    of < 0 ? senseOf(display.consumption).less : senseOf(display.consumption).more;
  const same = found.filter((other) => other < 0 === percent < 0).length;
  const sentences: string[] = [];
  const [only] = found;
  if (found.length === 1 && only !== undefined) {
    const text = percentText(only, display, place);
    sentences.push(
      `Worked out one other way, it comes out as ${sideOf(only)}${same === 1 ? ' too' : ''}: ${text}.`,
    );
  } else if (found.length > 1) {
    const inHowMany = same === found.length ? `all ${found.length}` : `${same} of ${found.length}`;
    const span = endsText([Math.min(...found), Math.max(...found)], display, place);
    sentences.push(
      `Worked out ${found.length} other ways, it comes out as ${sideOf(percent)} in ${inHowMany}, from ${span} %.`,
    );
  }
  if (carsLeftOut !== null) sentences.push(carsSentence(sideOf(percent), carsLeftOut, display, place));
  return sentences.length === 0 ? 'There is no other way to work out this pair.' : sentences.join(' ');
}

function carsSentence(
  side: string,
  { cars, answered, sameSign, low, high }: CarsLeftOut,
  display: Display,
  place: number,
): string {
  const span = endsText([percentOf(low), percentOf(high)], display, place);
  const held = sameSign === answered ? `stays ${side}` : `is ${side} in ${sameSign} of ${answered} cases`;
  const missing = cars - answered;
  const rest =
    missing === 0
      ? ''
      : ` Without ${missing === 1 ? 'one of them' : `any one of ${missing} of them`} there is nothing left to compare.`;
  return `With each of ${cars} cars left out in turn, it ${held}, from ${span} %.${rest}`;
}
