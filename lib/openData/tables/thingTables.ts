import { from, refersTo, type Table } from '../column';

const registry = from('registry');
const owner = from('owner');
const steward = from('steward');
const plan = from('plan');

export const PROTOCOL_VERSIONS: Table = {
  name: 'protocol_versions',
  title: 'Versions of the protocol',
  says: 'Every version of the rules by which runs were judged, with its limits.',
  key: ['protocol_version'],
  refersTo: [],
  columns: [
    steward.text('protocol_version', 'The label of the version.'),
    steward.text('status', 'Whether it is in force (active) or was replaced (retired).'),
    steward.perhaps.time('adopted_at', 'When it came into force.'),
    steward.perhaps.time('retired_at', 'When another one replaced it.'),
    steward.object('parameters', 'The limits of its rules, by section; names end in their unit.'),
  ],
};

export const MODELS: Table = {
  name: 'models',
  title: 'Models',
  says: 'The models of the cars that drove, as their data sheets are stated now.',
  key: ['model_id'],
  refersTo: [],
  columns: [
    registry.text('model_id', 'The model; its name is looked up at the registry.'),
    owner.integer('model_year', 'The model year.', 'a'),
    owner.text('body_class', 'Saloon, hatch, suv, van or pickup.'),
    owner.number('kerb_mass_kg', 'kg', 'The kerb mass by its data sheet.'),
    owner.perhaps.number('usable_capacity_wh', 'Wh', 'The usable energy of the battery by its data sheet.'),
    owner.perhaps.number(
      'drag_area_m2',
      'm2',
      'The drag coefficient times the frontal area, where it is known.',
    ),
    owner.truth('has_heat_pump', 'Whether the cabin is heated by a heat pump.'),
  ],
};

export const SETUPS: Table = {
  name: 'setups',
  title: 'Setups',
  says: 'A model in one configuration; a factor without a row in setup_levels is as delivered.',
  key: ['setup_id'],
  refersTo: [refersTo('models', ['model_id'])],
  columns: [
    registry.text('setup_id', 'The setup; its title is looked up at the registry.'),
    registry.text('model_id', 'The model that it is a setup of.'),
  ],
};

export const SETUP_LEVELS: Table = {
  name: 'setup_levels',
  title: 'Levels of the setups',
  says: 'Where a setup stands on each factor that it names.',
  key: ['setup_id', 'factor'],
  refersTo: [refersTo('setups', ['setup_id'])],
  columns: [
    registry.text('setup_id', 'The setup.'),
    registry.text('factor', 'What was changed, by its key: rideHeight, wheelTyre, and so on.'),
    registry.text('level_id', 'The level of the model; its name is looked up at the registry.'),
    owner.truth('is_baseline', 'Whether the model is delivered at this level.'),
    owner.perhaps.text('tyre_kind', 'Of a level of tyres: which prior of rolling resistance it takes.'),
    steward.perhaps.text('shared_level', 'The level across models that a steward has it stand for.'),
  ],
};

export const MERGES: Table = {
  name: 'merges',
  title: 'Merged entries',
  says: 'Cars, setups, models and loops that were found to be here twice: inputs may name the one that went.',
  key: ['kind', 'id'],
  refersTo: [],
  columns: [
    steward.text('kind', 'Car, loop, model or setup.'),
    registry.text('id', 'The entry that went.'),
    registry.text('into_id', 'The entry that stayed, which the runs are of.'),
  ],
};

export const LOOPS: Table = {
  name: 'loops',
  title: 'Loops',
  says: 'The out-and-back roads that were driven, as they are stated now, without their places.',
  key: ['loop_id'],
  refersTo: [],
  columns: [
    registry.text('loop_id', 'The loop; its name is looked up at the registry.'),
    owner.number('length_m', 'm', 'The length there and back.'),
    owner.number('length_uncertainty_m', 'm', 'The standard uncertainty of the length.'),
    owner.number('altitude_m', 'm', 'The mean altitude above sea level.'),
    owner.number('net_climb_m', 'm', 'The finish less the start, in height.'),
    owner.perhaps.number('gross_climb_m', 'm', 'All climbs added up, where somebody summed them.'),
    owner.number('closure_distance_m', 'm', 'How far the finish lies from the start.'),
    owner.number('closure_height_m', 'm', 'How much higher the finish lies than the start.'),
    owner.number('shared_route_share', '1', 'The share of the way that leads over the same road back.'),
    owner.number('off_cruise_share', '1', 'The share of the way on which cruise speed cannot be held.'),
    owner.number('posted_limit_mps', 'm/s', 'The posted speed limit of the open legs.'),
    owner.list('bearings', 'The shares of the way by the direction of travel, clockwise from north.', 'deg'),
  ],
};

export const LOOP_LEGS: Table = {
  name: 'loop_legs',
  title: 'Legs of the loops',
  says: 'The way out and the way back of each loop.',
  key: ['loop_id', 'direction'],
  refersTo: [refersTo('loops', ['loop_id'])],
  columns: [
    registry.text('loop_id', 'The loop.'),
    owner.text('direction', 'Outbound or return.'),
    owner.number('length_m', 'm', 'The length of the leg.'),
    owner.number('net_climb_m', 'm', 'The end of the leg less its start, in height.'),
    owner.list('bearings', 'The shares of the leg by the direction of travel, clockwise from north.', 'deg'),
  ],
};

export const ROAD_LOADS: Table = {
  name: 'road_loads',
  title: 'Adopted road loads',
  says: 'What the method takes for a model in place of its priors, where stewards adopted what was learned.',
  key: ['model_id'],
  refersTo: [],
  columns: [
    registry.text('model_id', 'The model, or one that was merged into it.'),
    steward.text('adopted_in', 'The version of the method that adopted it.'),
    steward.integer('runs', 'How many runs it was learned from.'),
    steward.list(
      'mean',
      'Drag area over efficiency (m2), rolling coefficient over efficiency (1), auxiliary power (W).',
    ),
    steward.list('covariance', 'The covariance of these three, row by row.'),
    steward.list(
      'levels',
      'Factor, level and kind of tyre, other than as delivered, of the setup it was learned from.',
    ),
  ],
};

export const STUDIES: Table = {
  name: 'studies',
  title: 'Studies',
  says: 'Questions that were planned before they were driven, in whatever state they are.',
  key: ['study_id'],
  refersTo: [refersTo('models', ['model_id']), refersTo('loops', ['loop_id'])],
  columns: [
    registry.text('study_id', 'The study; its question is looked up at the registry.'),
    registry.text('state', 'Draft, running, complete or abandoned.'),
    registry.text('owner_id', 'The pseudonym of who planned it.'),
    plan.text('model_id', 'The model that it asks about.'),
    plan.text('loop_id', 'The loop that it is driven on.'),
    plan.text('cruise_class', 'The cruise speed class, by its key.'),
    registry.time('created_at', 'When it was written down.'),
    registry.perhaps.time('began_at', 'When its plan was fixed.'),
    registry.perhaps.time('ended_at', 'When it was complete or given up.'),
  ],
};

export const STUDY_PLANS: Table = {
  name: 'study_plans',
  title: 'Plans of the studies',
  says: 'Each version of a study’s plan: what is compared, in which order, and what was expected.',
  key: ['study_id', 'plan_version'],
  refersTo: [refersTo('studies', ['study_id'])],
  columns: [
    registry.text('study_id', 'The study.'),
    registry.integer('plan_version', 'Counted from 1; the highest holds.'),
    registry.time('made_at', 'When it was made.'),
    plan.perhaps.object(
      'plan',
      'Setups, contrasts, order of each day and what was expected; names end in their unit.',
    ),
  ],
};

export const STUDY_RUNS: Table = {
  name: 'study_runs',
  title: 'Runs of the studies',
  says: 'Which runs belong to which study; a run belongs to one at most.',
  key: ['run'],
  refersTo: [refersTo('runs', ['run']), refersTo('studies', ['study_id'])],
  columns: [
    registry.integer('run', 'The run.'),
    registry.text('study_id', 'The study.'),
    registry.integer('plan_version', 'The version of the plan that held when the run was added.'),
    registry.truth('was_chosen', 'Whether it was added by hand afterwards, and not when it was sent in.'),
    registry.time('added_at', 'When it was added.'),
  ],
};
