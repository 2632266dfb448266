import type { FigureDescription } from '@/app/ui/figures/description';
import type { Answered, EstimateView } from '@/lib/registry/estimates/readEstimate';
import { dateText } from '@/lib/run/localDate';
import { type Display, displayParameters } from '@/lib/units/display';
import { hrefWith, type SearchParams } from '../rankings/query';
import { estimateParams } from './estimateQuery';

export interface EstimateOfFigure {
  view: EstimateView;
  setup: NonNullable<EstimateView['setup']>;
  answered: Answered;
  speedMps: number;
  params: SearchParams;
}

/** What a figure is made from; undefined where nothing was worked out. */
export function estimateOfFigure(view: EstimateView, params: SearchParams): EstimateOfFigure | undefined {
  const { setup, outcome, speedMps } = view;
  return setup === undefined || speedMps === undefined || outcome.kind !== 'answered'
    ? undefined
    : { view, setup, answered: outcome, speedMps, params };
}

/** Where a figure of an estimate lies: its address says all that was asked. */
export function estimateSource(
  kind: string,
  { view, setup, answered, params }: EstimateOfFigure,
  display: Display,
): Pick<FigureDescription, 'address' | 'source' | 'isDemo' | 'mark'> {
  const { setup: _setup, ...query } = {
    ...estimateParams(params),
    ...Object.fromEntries(displayParameters(display)),
  };
  return {
    address: { kind, key: setup.slug, query },
    source: {
      path: hrefWith('/estimate', { ...query, setup: setup.slug }, {}),
      asOf: dateText(answered.of.fittedAt),
    },
    isDemo: view.world === 'demo',
    mark: display.mark,
  };
}
