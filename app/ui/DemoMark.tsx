/**
 * Says on every page of the demo world that its people, cars, places and numbers are made up: a strip along the top edge
 * of the page, wherever on the page it is written, so that nothing stands between a headline and its answer.
 */
export function DemoMark({ inline = false }: { inline?: boolean }) {
  if (inline) {
    return (
      <span className="border border-dashed border-rule-strong px-1.5 text-xs whitespace-nowrap text-ink-soft">
        Demo: invented data
      </span>
    );
  }
  return (
    <p className="demo-strip">
      <strong className="font-semibold text-ink">Demo world: invented data.</strong>
      <span className="hidden md:inline"> Makers, models, places, people and numbers here are made up.</span>
    </p>
  );
}
