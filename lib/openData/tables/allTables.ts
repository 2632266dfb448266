import type { Table } from '../column';
import { CONTRASTS, ESTIMATES, FITS } from './fitTables';
import { CONDITIONS, DECISIONS, FINDINGS, INPUTS, READINGS, RECORDINGS, RESULTS, RUNS } from './runTables';
import {
  LOOP_LEGS,
  LOOPS,
  MERGES,
  MODELS,
  PROTOCOL_VERSIONS,
  ROAD_LOADS,
  SETUP_LEVELS,
  SETUPS,
  STUDIES,
  STUDY_PLANS,
  STUDY_RUNS,
} from './thingTables';

/** The tables of a snapshot in their order: what is referred to comes before what refers to it. */
export const TABLES: readonly Table[] = [
  PROTOCOL_VERSIONS,
  MODELS,
  SETUPS,
  SETUP_LEVELS,
  LOOPS,
  LOOP_LEGS,
  ROAD_LOADS,
  MERGES,
  RUNS,
  READINGS,
  CONDITIONS,
  INPUTS,
  RECORDINGS,
  RESULTS,
  FINDINGS,
  DECISIONS,
  FITS,
  ESTIMATES,
  CONTRASTS,
  STUDIES,
  STUDY_PLANS,
  STUDY_RUNS,
];
