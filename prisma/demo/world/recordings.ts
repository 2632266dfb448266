import { metresPerDegree } from '@/lib/capture/trace/geodesic';
import { RandomStream } from './randomStream';
import { placesInTime } from './speedPlan';
import type { DemoLoop, DemoRun, DemoWorld } from './types';

/** The republic lies in open ocean: no road of any real place is under its tracks. */
const ORIGIN = { latitudeDeg: 38.6, longitudeDeg: -41.2 };
const LOOP_OFFSETS_DEG = 0.9;
const STEP_S = 2;
/** Wander of positions and of satellite heights; each fades over about this many steps. */
const PLACE_WANDER_M = 1.2;
const HEIGHT_WANDER_M = 1.5;
const FADE_STEPS = 15;

/** Runs whose testers kept a recording: the first good ones of three testers on each loop. */
export function recordedRuns(world: DemoWorld): ReadonlySet<string> {
  const keys = new Set<string>();
  for (const loop of world.loops) {
    const testers = new Set<string>();
    for (const run of world.runs) {
      const isGood = run.revisions.length === 1 && run.revisions[0]?.review?.kind === 'approve';
      if (run.loopKey !== loop.key || !isGood || run.retraction || testers.has(run.testerKey)) continue;
      testers.add(run.testerKey);
      keys.add(run.key);
      if (testers.size === 3) break;
    }
  }
  return keys;
}

/** The recording of a run as GPX 1.1: the loop's own way and heights at the speeds that the run truly had. */
export function recordingOf(world: DemoWorld, run: DemoRun): Uint8Array {
  const loop = world.loops.find((each) => each.key === run.loopKey);
  const truth = world.truth.runs[run.key];
  if (loop === undefined || truth === undefined) throw new Error(`${run.key} was not driven`);
  const stream = new RandomStream(world.seed, `recording ${run.key}`);
  const at = wayOf(loop, world.loops.indexOf(loop));
  const [east, north, height] = [PLACE_WANDER_M, PLACE_WANDER_M, HEIGHT_WANDER_M].map((size) =>
    wander(stream, size),
  ) as [() => number, () => number, () => number];
  const startMs = Date.parse(run.startedAt);
  const outbound = placesInTime(truth.legs[0], STEP_S, 0);
  const back = placesInTime(truth.legs[1], STEP_S, outbound.nextS);
  const placesM = [...outbound.placesM, ...back.placesM.map((metres) => outbound.totalM + metres)];
  const rows = placesM.map((distanceM, k) => {
    const place = at(distanceM, east(), north());
    const time = new Date(startMs + 1000 * STEP_S * k).toISOString();
    const ele = (heightAt(loop, distanceM) + height()).toFixed(1);
    return `<trkpt lat="${place.latitudeDeg.toFixed(7)}" lon="${place.longitudeDeg.toFixed(7)}"><ele>${ele}</ele><time>${time}</time></trkpt>`;
  });
  const text = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="logger" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>${loop.name}</name><trkseg>
${rows.join('\n')}
</trkseg></trk></gpx>`;
  return new TextEncoder().encode(text);
}

/** Places along the loop's outline, stretched to its true length. */
function wayOf(loop: DemoLoop, index: number) {
  const { outline } = loop;
  const along = [0];
  for (let k = 1; k < outline.length; k++) {
    const [a, b] = [outline[k - 1], outline[k]];
    along.push((along[k - 1] ?? 0) + Math.hypot((b?.x ?? 0) - (a?.x ?? 0), (b?.y ?? 0) - (a?.y ?? 0)));
  }
  const drawnM = along.at(-1) ?? 1;
  const stretch = loop.trueLengthM / drawnM;
  const originLat = ORIGIN.latitudeDeg + index * LOOP_OFFSETS_DEG;
  const { north } = metresPerDegree(originLat);
  let piece = 1;
  return (distanceM: number, eastOffM: number, northOffM: number) => {
    const wanted = Math.min(drawnM, distanceM / stretch);
    while (piece < outline.length - 1 && (along[piece] ?? 0) < wanted) piece++;
    const [d0, d1] = [along[piece - 1] ?? 0, along[piece] ?? 0];
    const share = d1 > d0 ? (wanted - d0) / (d1 - d0) : 0;
    const [a, b] = [outline[piece - 1], outline[piece]];
    const between = (from = 0, to = 0) => stretch * (from + share * (to - from));
    const latitudeDeg = originLat + (between(a?.y, b?.y) + northOffM) / north;
    const { east } = metresPerDegree(latitudeDeg);
    return { latitudeDeg, longitudeDeg: ORIGIN.longitudeDeg + (between(a?.x, b?.x) + eastOffM) / east };
  };
}

function heightAt(loop: DemoLoop, distanceM: number): number {
  const { elevationProfile } = loop;
  const share = Math.min(1, distanceM / loop.trueLengthM) * (elevationProfile.length - 1);
  const node = Math.min(elevationProfile.length - 2, Math.floor(share));
  const [a, b] = [elevationProfile[node]?.heightM ?? 0, elevationProfile[node + 1]?.heightM ?? 0];
  return a + (share - node) * (b - a);
}

/** A first-order autoregressive wander of the given standard deviation. */
function wander(stream: RandomStream, size: number): () => number {
  const keep = Math.exp(-1 / FADE_STEPS);
  const drive = size * Math.sqrt(1 - keep * keep);
  let value = stream.normal(0, size);
  return () => {
    value = keep * value + stream.normal(0, drive);
    return value;
  };
}
