import type { EstimateLabel } from '@/lib/stats/groupFit';

const CAVEATS: Record<EstimateLabel, string> = {
  'single run': 'a single run: how far other runs would lie from it cannot be told',
  'one car': 'one car: what is special about it cannot be told from what the setup does',
  'one session': 'one day: how days differ is not seen in its runs',
  'too few data': 'too few data for an interval to rely on',
  'car variation unknown': 'how cars differ is not known in this class',
  'repeatability unknown': 'no run was repeated, so there is no interval',
  'repeatability assumed': 'how well runs repeat is partly assumed: few have been driven yet',
};

const isLabel = (text: string): text is EstimateLabel => text in CAVEATS;

/** What a reader has to know of an estimate's layout, from the labels that the fit stored: "one car, one session". */
export function caveatsOf(label: string): string[] {
  return label
    .split(', ')
    .filter(isLabel)
    .map((one) => CAVEATS[one]);
}
