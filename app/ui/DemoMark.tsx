/** Says on every page of the demo world that its people, cars, places and numbers are made up. */
export function DemoMark({ inline = false }: { inline?: boolean }) {
  if (inline) {
    return (
      <span className="border border-dashed border-rule-strong px-1.5 text-xs whitespace-nowrap text-ink-soft">
        Demo: invented data
      </span>
    );
  }
  return (
    <p className="mb-6 border border-dashed border-rule-strong px-4 py-2 text-sm text-ink-soft">
      <strong className="font-semibold text-ink">Demo world: invented data.</strong> Makers, models, places,
      people and numbers here are made up to show how the registry works.
    </p>
  );
}
