/** The sections of the run form, in the order in which a tester meets them. */
export const RUN_SECTIONS = [
  { key: 'setup', label: 'Car and setup' },
  { key: 'loop', label: 'Loop and speed' },
  { key: 'start', label: 'Start' },
  { key: 'turnaround', label: 'Turnaround' },
  { key: 'finish', label: 'Finish' },
  { key: 'charging', label: 'Charging back' },
  { key: 'conditions', label: 'Conditions' },
  { key: 'evidence', label: 'Evidence photos' },
] as const;

export type RunSection = (typeof RUN_SECTIONS)[number]['key'];

export function sectionLabel(section: RunSection): string {
  return RUN_SECTIONS.find(({ key }) => key === section)?.label ?? section;
}
