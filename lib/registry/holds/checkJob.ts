/** Jobs of this kind ask of a class's published fit whether its intervals hold; keyed like those that make it. */
export const CHECK_JOB = 'checkFit';
