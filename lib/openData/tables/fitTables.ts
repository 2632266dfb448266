import { from, refersTo, type Table } from '../column';

const registry = from('registry');
const fit = from('fit');

const LOG = 'ln(Wh/km)';

export const FITS: Table = {
  name: 'fits',
  title: 'Fits',
  says: 'One fit a cruise speed class: its variance components, and what it was made with beside its runs.',
  key: ['cruise_class'],
  refersTo: [],
  columns: [
    registry.text('cruise_class', 'The cruise speed class, by its key.'),
    fit.text('method_version', 'The version of the method whose results were fitted.'),
    registry.time('fitted_at', 'When its runs were read.'),
    fit.integer('runs_in', 'The runs that it was given.'),
    fit.integer('runs_used', 'The runs that it was made from.'),
    fit.integer('runs_not_normalised', 'The runs of the class that count without a normalised number.'),
    fit.truth('converged', 'Whether the likelihood was brought to its maximum.'),
    fit.integer('seed', 'What the simulated quantiles start from.'),
    fit.number('level', '1', 'The coverage of every interval.'),
    fit.number('variance_car', LOG, 'The variance between cars, squared in this unit.'),
    fit.number('variance_car_loop', LOG, 'The variance of a car from loop to loop, squared in this unit.'),
    fit.number(
      'variance_session',
      LOG,
      'The variance between days of a car on a loop, squared in this unit.',
    ),
    fit.number('variance_run', LOG, 'The variance between runs of one day, squared in this unit.'),
    fit.object('origins', 'Whether each variance is of own runs, pooled, moderated, assumed or none.'),
    fit.text('df_method', 'How degrees of freedom were found.'),
    fit.integer('residual_df', 'Runs less fitted setups.'),
    fit.perhaps.number('reml_criterion', '1', 'Minus twice the restricted log-likelihood at its maximum.'),
    fit.perhaps.number('repeatability_sd', LOG, 'The standard deviation of runs of one day.'),
    fit.perhaps.number('reproducibility_sd', LOG, 'The standard deviation across days, loops and cars.'),
    fit.perhaps.number(
      'critical_value',
      '1',
      'The quantile of the simultaneous intervals of the whole class.',
    ),
    fit.integer('least_runs', 'The runs that a setup needs to be ranked.'),
    fit.integer('least_sessions', 'The sessions that a setup needs to be ranked.'),
    fit.integer('least_cars', 'The cars on each side that a comparison across models needs.'),
    fit.perhaps.object(
      'pooled_car_loop',
      'The variance of a car on a loop that was pooled over all classes, where it was used.',
    ),
    fit.list('testers_as_one', 'Groups of testers that count as one, by their pseudonyms.'),
    fit.list('testers_not_vouched', 'Testers of the class whom nobody vouches for.'),
  ],
};

const OF_FIT = refersTo('fits', ['cruise_class']);

export const ESTIMATES: Table = {
  name: 'estimates',
  title: 'Estimates',
  says: 'Each setup’s fitted consumption at reference conditions, with its interval, counts and rank set.',
  key: ['cruise_class', 'setup_id'],
  refersTo: [OF_FIT, refersTo('setups', ['setup_id'])],
  columns: [
    registry.text('cruise_class', 'The cruise speed class, by its key.'),
    registry.text('setup_id', 'The setup.'),
    fit.integer('runs', 'How many runs stand behind it.'),
    fit.integer('cars', 'How many cars.'),
    fit.integer('testers', 'How many testers.'),
    fit.integer('loops', 'How many loops.'),
    fit.integer('days', 'How many days.'),
    fit.integer('sessions', 'How many sessions.'),
    fit.number('log_mean', LOG, 'The fitted value.'),
    fit.perhaps.number('log_se', LOG, 'Its standard error, with what the runs share.'),
    fit.perhaps.number('dof', '1', 'The degrees of freedom of the standard error.'),
    fit.number('estimate_wh_per_km', 'Wh/km', 'The fitted consumption.'),
    fit.perhaps.number('low_wh_per_km', 'Wh/km', 'The lower end of its 95 % interval.'),
    fit.perhaps.number('high_wh_per_km', 'Wh/km', 'The upper end of its 95 % interval.'),
    fit.text('interval_kind', 'Whether the two ends are of the model, of the expected variation, or none.'),
    fit.number('raw_mean_wh_per_km', 'Wh/km', 'The mean of what was measured, before anything was adjusted.'),
    fit.truth('is_ranked', 'Whether it has a place in the ranking.'),
    fit.perhaps.text('label', 'What there is to say of so few data.'),
    fit.list('missing', 'What keeps it from being ranked: what, have, need.'),
    fit.perhaps.integer('rank_lower', 'The best place that the settled differences leave it.'),
    fit.perhaps.integer('rank_upper', 'The last place that they leave it.'),
    fit.perhaps.integer('comparable', 'Among how many ranked setups, itself counted.'),
    fit.perhaps.number('chance_of_lowest', '1', 'The simulated chance of being the lowest of these.'),
    fit.integer('component', 'Setups that are connected by cars have the same.'),
    fit.perhaps.number(
      'expected_half_width',
      LOG,
      'Half of what one run of one car would be expected to vary by, where that is all that can be said.',
    ),
    fit.perhaps.number('expected_dof', '1', 'The degrees of freedom of that.'),
    fit.list('rests_on', 'Testers who count as one and move more than half of it.'),
    fit.perhaps.object('without', 'Where it would stand without those testers whose absence changes most.'),
  ],
};

export const CONTRASTS: Table = {
  name: 'contrasts',
  title: 'Differences',
  says: 'The difference of each two setups of a class, A less B, in ln of the consumption.',
  key: ['cruise_class', 'setup_a', 'setup_b'],
  refersTo: [
    OF_FIT,
    refersTo('setups', ['setup_a'], ['setup_id']),
    refersTo('setups', ['setup_b'], ['setup_id']),
  ],
  columns: [
    registry.text('cruise_class', 'The cruise speed class, by its key.'),
    registry.text('setup_a', 'The one.'),
    registry.text('setup_b', 'The other.'),
    fit.text(
      'kind',
      'Whether they met in a session, in a car, through others, across models, or not at all.',
    ),
    fit.integer('chain_length', 'Steps from car to car between the two; 0 where there is no way.'),
    fit.perhaps.number(
      'difference_log',
      LOG,
      'The difference; negative where A uses less; exp of it less 1 is the share.',
    ),
    fit.perhaps.number('log_se', LOG, 'Its standard error.'),
    fit.perhaps.number('dof', '1', 'The degrees of freedom of the standard error.'),
    fit.perhaps.number('low_log', LOG, 'The lower end of the 95 % interval of this pair alone.'),
    fit.perhaps.number('high_log', LOG, 'The upper end of it.'),
    fit.perhaps.number(
      'simultaneous_low_log',
      LOG,
      'The lower end of the interval that holds for all pairs of the class at once.',
    ),
    fit.perhaps.number('simultaneous_high_log', LOG, 'The upper end of it.'),
    fit.perhaps.number(
      'model_low_log',
      LOG,
      'The lower end of the interval that holds for all pairs of the model at once.',
    ),
    fit.perhaps.number('model_high_log', LOG, 'The upper end of it.'),
    fit.perhaps.text('word', 'The strength of the evidence: settled, probable, leaning or undecided.'),
    fit.perhaps.number('shared_u_log', LOG, 'The part of the standard error that the runs share.'),
    fit.perhaps.text('reason', 'Why a number is missing.'),
    fit.list('rests_on', 'Groups of testers without whom the word would be a higher one.'),
  ],
};
