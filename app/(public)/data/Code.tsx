/** Lines to be copied: they scroll sideways in a region of their own, so that the page never does. */
export function Code({ label, children }: { label: string; children: string }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section aria-label={label} tabIndex={0} className="mt-2 overflow-x-auto border border-rule bg-wash p-3">
      <pre className="text-sm leading-6">
        <code>{children}</code>
      </pre>
    </section>
  );
}
