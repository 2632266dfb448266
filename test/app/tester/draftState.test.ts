import { describe, expect, it } from 'vitest';
import {
  type DraftEvent,
  type DraftState,
  draftAfter,
  draftOpened,
  draftWords,
  maySave,
} from '@/app/(tester)/record/[runId]/draftState';

const stateAfter = (...events: DraftEvent[]): DraftState => events.reduce(draftAfter, draftOpened(3));

describe('the state of a draft', () => {
  it('goes from typed over saving to saved with the version of the server', () => {
    expect(stateAfter({ kind: 'typed' }).status).toBe('unsaved');
    const saved = stateAfter({ kind: 'typed' }, { kind: 'saveStarted' }, { kind: 'saved', version: 4 });
    expect(saved).toMatchObject({ status: 'saved', version: 4 });
  });

  it('stays unsaved when something was typed while a save was on its way', () => {
    const state = stateAfter(
      { kind: 'typed' },
      { kind: 'saveStarted' },
      { kind: 'typed' },
      { kind: 'saved', version: 4 },
    );
    expect(state).toMatchObject({ status: 'unsaved', version: 4, isStale: false });
  });

  it('never saves over a conflict by typing on', () => {
    const state = stateAfter(
      { kind: 'typed' },
      { kind: 'saveStarted' },
      { kind: 'conflict', message: 'changed' },
      {
        kind: 'typed',
      },
    );
    expect(state.status).toBe('conflict');
    expect(maySave(state)).toBe(false);
  });

  it('may save again after the server could not be reached or refused', () => {
    expect(maySave(stateAfter({ kind: 'typed' }, { kind: 'saveStarted' }, { kind: 'unreachable' }))).toBe(
      true,
    );
    expect(maySave(stateAfter({ kind: 'refused', message: 'Sign in first.' }))).toBe(true);
    expect(maySave(stateAfter({ kind: 'typed' }, { kind: 'saveStarted' }))).toBe(false);
    expect(maySave(stateAfter())).toBe(false);
  });

  it('takes a version over without calling saved what is not', () => {
    const state = stateAfter({ kind: 'typed' }, { kind: 'moved', version: 9 });
    expect(state).toMatchObject({ status: 'unsaved', version: 9 });
    expect(stateAfter({ kind: 'moved', version: 9 }).status).toBe('saved');
  });

  it('says so in words', () => {
    expect(draftWords(stateAfter())).toBe('All changes saved.');
    expect(draftWords(stateAfter({ kind: 'refused', message: 'Sign in first.' }))).toContain(
      'Sign in first.',
    );
    expect(draftWords(stateAfter({ kind: 'unreachable' }))).toContain('kept in this browser');
  });
});
