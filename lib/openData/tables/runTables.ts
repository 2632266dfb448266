import { from, refersTo, type Table } from '../column';

const registry = from('registry');
const tester = from('tester');
const inputs = from('inputs');
const method = from('method');
const protocol = from('protocol');
const reviewer = from('reviewer');
const recording = from('recording');

const OF_RUN = [refersTo('runs', ['run'])];

export const RUNS: Table = {
  name: 'runs',
  title: 'Runs',
  says: 'Every run that was ever published, with the revision of it that counts or was decided on last.',
  key: ['run'],
  refersTo: [
    refersTo('setups', ['setup_id']),
    refersTo('models', ['model_id']),
    refersTo('loops', ['loop_id']),
    refersTo('protocol_versions', ['protocol_version']),
  ],
  columns: [
    registry.integer('run', 'The number of the run, as in its address.'),
    registry.text(
      'run_id',
      'The run as the registry keeps it; with month_only another name, which does not tell when it was made.',
    ),
    registry.text('status', 'Approved, retracted or superseded.'),
    registry.truth('counts', 'Whether it counts: approved, and no hold on it open.'),
    registry.integer('revision', 'Which of its revisions this is.'),
    registry.text('tester_id', 'The pseudonym of who drove it; the name is looked up at the registry.'),
    registry.text('car_id', 'The one car that drove.'),
    registry.text('setup_id', 'The setup that was driven.'),
    registry.text('model_id', 'The model of the setup.'),
    registry.text('loop_id', 'The loop that was driven.'),
    registry.text(
      'session_id',
      'The runs of one car on one loop on one day have one; with month_only under another name, as run_id.',
    ),
    registry.text('cruise_class', 'The cruise speed class, by its key.'),
    tester.day('local_date', 'The day at the loop; with month_only the first of its month.'),
    tester.truth(
      'month_only',
      'Whether its tester publishes no more than the month: then the run stands as if driven as its month began, the calibrations of its inputs moved by as many whole days, and every other time of it is the beginning of its month in UTC. No number is another one by it.',
    ),
    tester.time('started_at', 'When it began; with month_only 00:00 at the loop on local_date.'),
    tester.integer('utc_offset_min', 'The local time at the loop less UTC.', 'min'),
    tester.truth('is_retrospective', 'Whether it was written down after the day.'),
    registry.text('protocol_version', 'The version of the protocol in force when it was sent in.'),
    registry.time('submitted_at', 'When this revision was sent in; with month_only in which month.'),
    registry.perhaps.time('decided_at', 'When the run was last decided on; with month_only in which month.'),
  ],
};

export const READINGS: Table = {
  name: 'readings',
  title: 'Readings',
  says: 'Every number of a run as it was shown, and what it can stand for.',
  key: ['run', 'quantity'],
  refersTo: OF_RUN,
  columns: [
    registry.integer('run', 'The run.'),
    tester.text('quantity', 'What was read, by the name of the form’s field.'),
    tester.text('moment', 'When it was read: start, turnaround, finish, charging or throughout.'),
    tester.text('instrument', 'What showed it.'),
    tester.text('entered_text', 'The digits as they were shown.'),
    tester.text('entered_unit', 'The unit that they were shown in.'),
    registry.text('unit', 'The unit of value, low and high; 1 for shares.'),
    tester.number('value', 'as in unit', 'The number in the canonical unit.'),
    tester.number('low', 'as in unit', 'The least that the display would have rounded to it.'),
    tester.number('high', 'as in unit', 'The most that the display would have rounded to it.'),
  ],
};

export const CONDITIONS: Table = {
  name: 'conditions',
  title: 'Conditions',
  says: 'Weather, road and traffic of each run.',
  key: ['run'],
  refersTo: OF_RUN,
  columns: [
    registry.integer('run', 'The run.'),
    tester.text('source', 'Where the weather is known from.'),
    tester.perhaps.number('air_temperature_c', 'degC', 'The air temperature.'),
    method.perhaps.number(
      'air_temperature_u_c',
      'degC',
      'Its standard uncertainty over the loop, by its source.',
    ),
    tester.perhaps.number('pressure_pa', 'Pa', 'The air pressure.'),
    tester.text('pressure_kind', 'Whether it is of the place or reduced to sea level.'),
    tester.perhaps.number('relative_humidity', '1', 'The relative humidity.'),
    tester.perhaps.number('dew_point_c', 'degC', 'The dew point.'),
    tester.perhaps.number('wind_speed_mps', 'm/s', 'The mean wind speed at the station’s height.'),
    tester.perhaps.number('wind_from_deg', 'deg', 'Where the wind came from, clockwise from north.'),
    tester.perhaps.number('wind_gust_mps', 'm/s', 'The strongest gust.'),
    tester.perhaps.number('station_distance_m', 'm', 'How far the station is from the loop.'),
    tester.text('precipitation', 'What fell.'),
    tester.text('road', 'Dry, damp or wet.'),
    tester.text('traffic', 'How much there was.'),
    tester.text('close_following', 'Whether another vehicle was followed closely.'),
  ],
};

export const INPUTS: Table = {
  name: 'inputs',
  title: 'Inputs as they were',
  says: 'What a run’s result was made from besides its readings, as it stood when it was sent in or corrected.',
  key: ['run'],
  refersTo: OF_RUN,
  columns: [
    registry.integer('run', 'The run.'),
    inputs.integer('form_version', 'The version of the form in which these are kept.'),
    inputs.text('origin', 'Kept when it was submitted, made by a correction, or reconstructed later.'),
    inputs.object(
      'record',
      'What was chosen in the form: identities, time and conditions; without texts. The time as in runs.',
    ),
    inputs.object('cruise_class', 'The class and its speed.'),
    inputs.object('car', 'What was known of the car; names end in their unit.'),
    inputs.object('model', 'What was known of the model; names end in their unit.'),
    inputs.object('setup', 'The levels of the setup.'),
    inputs.object('loop', 'What was known of the loop, how it is driven included; names end in their unit.'),
    inputs.list(
      'calibrations',
      'The calibrations of the car’s instruments: true value = factor times shown; days as in runs.',
    ),
    inputs.perhaps.object(
      'weather',
      'The weather over the run by the station’s reports, with standard uncertainties.',
    ),
  ],
};

export const RECORDINGS: Table = {
  name: 'recordings',
  title: 'Reductions of recordings',
  says: 'What a run’s own recording came to; no place is in it, and no track.',
  key: ['run'],
  refersTo: OF_RUN,
  columns: [
    registry.integer('run', 'The run.'),
    recording.text('recording_id', 'The recording; with month_only of the run under another name.'),
    recording.number('distance_m', 'm', 'The distance as recorded.'),
    recording.perhaps.number(
      'length_scale',
      '1',
      'What lengths and speeds are multiplied by to agree with the loop.',
    ),
    recording.number('gap_distance_m', 'm', 'The distance over which nothing was recorded.'),
    recording.number('mean_square_speed_m2_s2', 'm2/s2', 'The mean square of the speed over the distance.'),
    recording.perhaps.number('duration_s', 's', 'The time of driving.'),
    recording.perhaps.number('cruise_mean_speed_mps', 'm/s', 'The mean speed while cruising.'),
    recording.perhaps.number(
      'cruise_spread_mps',
      'm/s',
      'The standard deviation of the speed while cruising.',
    ),
    recording.perhaps.number('cruise_duration_s', 's', 'The time of cruising.'),
    recording.perhaps.number(
      'cruise_within_band_share',
      '1',
      'The share of cruising within the band about its speed.',
    ),
    recording.perhaps.number('cruise_off_share', '1', 'The share of the distance that was not cruised.'),
    recording.list(
      'slow_downs',
      'Each slowing down, from one speed to another, with the fall of the road.',
      'm/s',
    ),
    recording.list(
      'sector_shares',
      'The shares of the distance by equal sectors of direction, from north clockwise.',
      '1',
    ),
    recording.number('closure_distance_m', 'm', 'How far its end is from its start.'),
    recording.perhaps.number('net_climb_m', 'm', 'Its end less its start, in height.'),
  ],
};

export const RESULTS: Table = {
  name: 'results',
  title: 'Results',
  says: 'Each run from measured to comparable, under the version of the method that the registry shows.',
  key: ['run'],
  refersTo: OF_RUN,
  columns: [
    registry.integer('run', 'The run.'),
    method.text('method_version', 'The version of the method.'),
    method.truth('is_normalised', 'Whether the conditions lay within the method’s reach.'),
    method.number('measured_wh_per_km', 'Wh/km', 'The consumption as measured.'),
    method.number('u_measured_wh_per_km', 'Wh/km', 'Its standard uncertainty.'),
    method.number('energy_wh', 'Wh', 'The energy, from all readings of it.'),
    method.number('u_energy_wh', 'Wh', 'Its standard uncertainty.'),
    method.perhaps.number('distance_m', 'm', 'The distance that the energy was divided by.'),
    method.perhaps.number('u_distance_m', 'm', 'Its standard uncertainty.'),
    method.perhaps.number('cruise_speed_mps', 'm/s', 'The cruise speed that it was normalised from.'),
    method.perhaps.number('u_cruise_speed_mps', 'm/s', 'Its standard uncertainty.'),
    method.perhaps.number('normalised_wh_per_km', 'Wh/km', 'The consumption at reference conditions.'),
    method.perhaps.number('u_wh_per_km', 'Wh/km', 'Its standard uncertainty, of all parts.'),
    method.perhaps.number(
      'u_run_relative',
      '1',
      'The relative standard uncertainty of the part that is the run’s own.',
    ),
    method.perhaps.number(
      'effective_dof',
      '1',
      'The effective degrees of freedom of the uncertainty; empty where infinite.',
    ),
    method.perhaps.number('low_wh_per_km', 'Wh/km', 'The lower end of the 95 % interval.'),
    method.perhaps.number('high_wh_per_km', 'Wh/km', 'The upper end of the 95 % interval.'),
    method.perhaps.number('adjustment_relative', '1', 'Normalised over measured, less 1.'),
    method.perhaps.number('scale', '1', 'Measured consumption over what the road load expects.'),
    method.perhaps.list(
      'steps',
      'What each step of the adjustment moved, in order: deltaWhPerKm, factor, uWhPerKm.',
    ),
    method.perhaps.list(
      'budget',
      'What each uncertain input contributes, largest first: value, u, dof, scope, sensitivity.',
    ),
    method.perhaps.list('correlations', 'The stated correlations between inputs of the budget.'),
    method.list('outside_reach', 'Why there is no normalised number, by codes; empty where there is one.'),
    method.perhaps.list(
      'shared_parts',
      'Of a run that counts: what its result has in common with others’, in ln of the consumption.',
    ),
  ],
};

export const FINDINGS: Table = {
  name: 'findings',
  title: 'Findings',
  says: 'What each rule of the protocol said of the run, with the numbers that decided.',
  key: ['run', 'protocol_version', 'rule'],
  refersTo: [...OF_RUN, refersTo('protocol_versions', ['protocol_version'])],
  columns: [
    registry.integer('run', 'The run.'),
    protocol.text('protocol_version', 'The version of the protocol.'),
    protocol.text('rule', 'The rule, by its key.'),
    protocol.text('outcome', 'Pass, caution, fail or notChecked.'),
    protocol.list(
      'numbers',
      'What was compared with which limit, and in which unit; with month_only of the run none of date-not-ahead.',
    ),
  ],
};

export const DECISIONS: Table = {
  name: 'decisions',
  title: 'Decisions',
  says: 'What reviewers decided on the runs’ revisions; their notes stay at the registry.',
  key: ['run', 'revision', 'round', 'reviewer_id'],
  refersTo: OF_RUN,
  columns: [
    registry.integer('run', 'The run.'),
    registry.integer('revision', 'The revision that was decided on.'),
    registry.integer('round', '1, and one more after each appeal.'),
    registry.text('reviewer_id', 'The pseudonym of the reviewer.'),
    reviewer.text('decision', 'Approve, askChanges or reject.'),
    registry.time('decided_at', 'When it was decided; with month_only of the run in which month.'),
    registry.list('second_for', 'Why the approval asked for a second one; empty where it stood by itself.'),
    reviewer.list('rules', 'The rules that were given as reasons, by their keys.'),
  ],
};
