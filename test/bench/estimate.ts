import { report, requestTimesMs } from './app';
import { onDemoWorld, stop } from './builtApp';

/** A page that reads nothing but who asks. */
const BARE = '/safety';

/**
 * Server time of an estimate beside that of a bare page, on the built app over the demo world: one setup, two side by
 * side, and a long trip in the cold with many stops.
 */
export function bench(): Promise<void> {
  return onDemoWorld(async ({ address, start }) => {
    const app = await start();
    const [setup = '', against = ''] = await setupsOffered(address);
    const asked = [
      `setup=${setup}`,
      `setup=${setup}&against=${against}&homePrice=0.3`,
      `setup=${setup}&trip=2000&air=-10&climate=heating&windSpeed=5&windFrom=ahead`,
    ];
    const bare = await requestTimesMs(`${address}${BARE}`);
    report(`server time of ${BARE}`, 'ms', bare);
    for (const query of asked) {
      const times = await requestTimesMs(`${address}/estimate?${query}`);
      report(`server time of /estimate?${query}`, 'ms', times);
      console.log(`  ${(median(times) / median(bare)).toFixed(2)} times the bare page (goal: at most 2)`);
    }
    await stop(app);
  });
}

/** The first two setups of one model that the form offers. */
async function setupsOffered(address: string): Promise<string[]> {
  const slugsIn = (page: string, name: string) => {
    const [, options = ''] =
      new RegExp(`<select[^>]*name="${name}"[^>]*>(.*?)</select>`, 's').exec(page) ?? [];
    return [...options.matchAll(/<option value="([^"]+)"/g)].map(([, slug = '']) => slug);
  };
  const [setup = ''] = slugsIn(await (await fetch(`${address}/estimate`)).text(), 'setup');
  const beside = await (await fetch(`${address}/estimate?setup=${setup}`)).text();
  return [setup, ...slugsIn(beside, 'against')];
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}
