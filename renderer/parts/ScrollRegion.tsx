import type { ReactNode } from 'react';

/** A region that scrolls inside itself and can be reached, and scrolled, by keyboard. */
export function ScrollRegion(props: { label: string; className: string; children: ReactNode }) {
  const { label, className, children } = props;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolled region must be reachable by keyboard.
    <section className={className} aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
