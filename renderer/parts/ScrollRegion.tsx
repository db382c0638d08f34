import type { ReactNode, Ref } from 'react';

/** A region that scrolls inside itself and can be reached, and scrolled, by keyboard. */
export function ScrollRegion(props: {
  label: string;
  className: string;
  ref?: Ref<HTMLElement>;
  children: ReactNode;
}) {
  const { label, className, ref, children } = props;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolled region must be reachable by keyboard.
    <section className={className} aria-label={label} ref={ref} tabIndex={0}>
      {children}
    </section>
  );
}
