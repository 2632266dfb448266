import { type Definition, DefinitionList } from '@/app/ui/DefinitionList';
import type { RunView } from '@/lib/registry/runs/run';
import { choiceLabel } from '@/lib/run/fields/table';
import { CALM_MPS } from '@/lib/run/together';
import type { Display, Kind } from '@/lib/units/display';
import { showQuantity, showWithUncertainty } from '@/lib/units/show';
import type { UnitCode } from '@/lib/units/unit';
import { percent } from './numbers';

/** Weather and road, with where they come from, and what was set in the car. */
export function ConditionsList({ view, display }: { view: RunView; display: Display }) {
  const { conditions, choices } = view;
  if (conditions === null) return <p className="text-sm text-ink-soft">No conditions were kept.</p>;
  const value = (canonical: number, kind: Kind | UnitCode, decimals: number) =>
    showQuantity(canonical, kind, display, { decimals });
  const wind = (mps: number) => value(mps, 'wind', display.wind === 'm/s' ? 1 : 0);
  const items: (Definition | null)[] = [
    { term: 'Source', description: choiceLabel('conditionsSource', conditions.source) },
    conditions.stationDistanceM === null
      ? null
      : { term: 'Station', description: `${value(conditions.stationDistanceM, 'distance', 0)} away` },
    {
      term: 'Air temperature',
      description: showWithUncertainty(
        conditions.airTemperatureC,
        conditions.airTemperatureUC,
        'temperature',
        display,
      ),
      note: '± what such a source may be off by',
    },
    {
      term: 'Air pressure',
      description:
        conditions.pressurePa === null
          ? 'from the loop’s altitude'
          : value(conditions.pressurePa, 'airPressure', display.airPressure === 'hPa' ? 1 : 2),
      note: choiceLabel('pressureKind', conditions.pressureKind),
    },
    conditions.relativeHumidity === null
      ? null
      : { term: 'Relative humidity', description: percent(conditions.relativeHumidity, 0, display) },
    conditions.dewPointC === null
      ? null
      : { term: 'Dew point', description: value(conditions.dewPointC, 'temperature', 1) },
    {
      term: 'Mean wind at 10 m',
      description: conditions.windSpeedMps === null ? 'not given' : wind(conditions.windSpeedMps),
      note:
        conditions.windFromDeg === null
          ? (conditions.windSpeedMps ?? 0) > CALM_MPS
            ? 'from where is not known'
            : 'variable or calm'
          : `from ${value(conditions.windFromDeg, 'deg', 0)}`,
    },
    conditions.windGustMps === null ? null : { term: 'Gusts', description: wind(conditions.windGustMps) },
    { term: 'Precipitation', description: choiceLabel('precipitation', conditions.precipitation) },
    { term: 'Road', description: choiceLabel('road', conditions.road) },
    { term: 'Traffic', description: choiceLabel('traffic', conditions.traffic) },
    choices.inFront === null
      ? null
      : { term: 'Who was in front', description: choiceLabel('inFront', choices.inFront) },
    {
      term: 'Followed another vehicle closely',
      description: choiceLabel('closeFollowing', conditions.closeFollowing),
    },
    { term: 'Climate setting', description: choiceLabel('climate', choices.climate) },
    { term: 'True speed checked by', description: choiceLabel('trueSpeedMethod', choices.trueSpeedMethod) },
    choices.chargerKind === null
      ? null
      : { term: 'Charger', description: choiceLabel('chargerKind', choices.chargerKind) },
  ];
  return (
    <>
      <DefinitionList columns={2} items={items.filter((item) => item !== null)} />
      {conditions.stationReport ? (
        <p className="mt-4 text-sm">
          Station report as pasted: <code className="code">{conditions.stationReport}</code>
        </p>
      ) : null}
    </>
  );
}
