/**
 * The few errors that a use case may throw. `app` maps each to a page or a status code in one place.
 */
export interface InputIssue {
  /** Name of the form field, or a path into JSON. */
  path: string;
  /** What is wrong. */
  what: string;
  /** Why it cannot be so. */
  why: string;
  /** What to do about it. */
  fix: string;
}

export class InvalidInput extends Error {
  constructor(readonly issues: readonly InputIssue[]) {
    super(issues.map((issue) => `${issue.path}: ${issue.what}`).join('; '));
    this.name = 'InvalidInput';
  }
}

/** Who asked for what, for the audit log. */
interface Asked {
  accountId?: string | undefined;
  /** As permissions name it, or what else was asked for. */
  act: string;
}

/** Asked for again too soon after others that failed; the same may be asked for after some seconds. */
export class TooSoon extends InvalidInput {
  constructor(
    readonly waitS: number,
    issue: InputIssue,
  ) {
    super([issue]);
    this.name = 'TooSoon';
  }
}

/** Signed in, or not, but without the right. */
export class NotAllowed extends Error {
  constructor(
    message: string,
    readonly isSignedIn: boolean,
    readonly asked: Asked = { act: 'useAccount' },
  ) {
    super(message);
    this.name = 'NotAllowed';
  }
}

export class NotFound extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'NotFound';
  }
}

/** Someone else changed it first, or it is already decided. */
export class Conflict extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'Conflict';
  }
}

/** Somebody saved the draft since the writer read it. */
export class StaleDraft extends Conflict {
  constructor() {
    super('This draft was changed in another window or on another device. Reload to see that version.');
    this.name = 'StaleDraft';
  }
}

/** The method does not reach this case; the record is kept, the number is not made. */
export class OutOfReach extends Error {
  constructor(readonly reasons: readonly string[]) {
    super(reasons.join(' '));
    this.name = 'OutOfReach';
  }
}

/** More than the server takes. */
export class TooLarge extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'TooLarge';
  }
}

/** Too much is being asked for at this moment; the same may be had soon. */
export class Overloaded extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'Overloaded';
  }
}
