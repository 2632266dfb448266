/**
 * Where a draft stands between this window and the server. One save is on its way at a time; what is typed meanwhile
 * is saved by the next one.
 */
export type DraftStatus = 'saved' | 'unsaved' | 'saving' | 'unreachable' | 'conflict' | 'refused';

export interface DraftState {
  status: DraftStatus;
  /** The version that the server holds, as far as this window knows. */
  version: number;
  /** Something was typed after the save on its way had left. */
  isStale: boolean;
  /** What the server said when it refused. */
  message: string;
}

export type DraftEvent =
  | { kind: 'typed' }
  | { kind: 'saveStarted' }
  | { kind: 'saved'; version: number }
  | { kind: 'unreachable' }
  | { kind: 'conflict'; message: string }
  | { kind: 'refused'; message: string }
  | { kind: 'moved'; version: number }
  | { kind: 'merged'; version: number };

export function draftOpened(version: number, isTorn = false): DraftState {
  return { status: isTorn ? 'conflict' : 'saved', version, isStale: false, message: '' };
}

export function draftAfter(state: DraftState, event: DraftEvent): DraftState {
  switch (event.kind) {
    case 'typed':
      if (state.status === 'saving') return { ...state, isStale: true };
      // A conflict stays until someone chooses: typing on must not overwrite what the other window saved.
      return state.status === 'conflict' ? state : { ...state, status: 'unsaved', message: '' };
    case 'saveStarted':
      return { ...state, status: 'saving', isStale: false, message: '' };
    case 'saved':
      return {
        ...state,
        status: state.isStale ? 'unsaved' : 'saved',
        version: event.version,
        isStale: false,
      };
    case 'unreachable':
      return { ...state, status: 'unreachable', isStale: false };
    case 'conflict':
    case 'refused':
      return { ...state, status: event.kind, isStale: false, message: event.message };
    case 'moved':
      // Another way of saving raised the version; what was typed since is as unsaved as before.
      return { ...state, version: event.version };
    case 'merged':
      // Both sides' changes stand in the form now; the server has only the other side's.
      return { status: 'unsaved', version: event.version, isStale: false, message: '' };
  }
}

/** May a save leave now? */
export function maySave(state: DraftState): boolean {
  return state.status === 'unsaved' || state.status === 'unreachable' || state.status === 'refused';
}

/** One line for the tester. */
export function draftWords(state: DraftState): string {
  switch (state.status) {
    case 'saved':
      return 'All changes saved.';
    case 'unsaved':
      return 'Not saved yet.';
    case 'saving':
      return 'Saving…';
    case 'unreachable':
      return 'The server cannot be reached. What you typed is kept in this browser and sent later.';
    case 'conflict':
      return 'Not saved: this draft was changed elsewhere.';
    case 'refused':
      return `Not saved: ${state.message} What you typed is kept in this browser.`;
  }
}
