import { LinkTabs } from './LinkTabs';

interface ClassTabsProps {
  classes: readonly { key: string; label: string; runs: number }[];
  current: string | undefined;
  hrefOf: (classKey: string) => string;
}

/** The cruise speed classes of a page, with their runs. */
export function ClassTabs({ classes, current, hrefOf }: ClassTabsProps) {
  return (
    <LinkTabs
      label="Cruise speed class"
      tabs={classes.map(({ key, label, runs }) => ({
        href: hrefOf(key),
        label,
        count: runs,
        current: key === current,
      }))}
    />
  );
}
