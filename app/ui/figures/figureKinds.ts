import type { FigureDrawing } from './description';
import type { FigureKind } from './figureKind';
import { bars } from './kinds/bars';
import { budget } from './kinds/budget';
import { density } from './kinds/density';
import { forest } from './kinds/forest';
import { histogram } from './kinds/histogram';
import { interval } from './kinds/interval';
import { mandel } from './kinds/mandel';
import { map } from './kinds/map';
import { openBand } from './kinds/openBand';
import { pairs } from './kinds/pairs';
import { profile } from './kinds/profile';
import { rose } from './kinds/rose';
import { scatter } from './kinds/scatter';
import { sessions } from './kinds/sessions';
import { spread } from './kinds/spread';
import { waterfall } from './kinds/waterfall';
import { ways } from './kinds/ways';

type Kinds = {
  [K in FigureDrawing['kind']]: FigureKind<Extract<FigureDrawing, { kind: K }>>;
};

const kinds: Kinds = {
  bars,
  budget,
  density,
  forest,
  histogram,
  interval,
  mandel,
  map,
  openBand,
  pairs,
  profile,
  rose,
  scatter,
  sessions,
  spread,
  waterfall,
  ways,
};

/** How a drawing is drawn: the one place where its kind is looked up. */
export function kindOf(drawing: FigureDrawing): FigureKind<FigureDrawing> {
  // Kind and data agree by the type of `kinds`, which a look-up by a union cannot express.
  return kinds[drawing.kind] as unknown as FigureKind<FigureDrawing>;
}
