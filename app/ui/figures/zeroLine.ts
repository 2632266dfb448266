/** The zero line of differences has one name, whatever they are held against: that stands along the axis. */
export const ZERO_LINE = { value: 0, label: 'no difference' } as const;
