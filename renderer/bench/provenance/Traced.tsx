import './provenance.css';
import { Popover } from '@mantine/core';
import {
  createContext,
  type ReactNode,
  type Ref,
  useContext,
  useId,
  useImperativeHandle,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { Assessment, Bench } from '../../types.ts';
import { explainResult } from './explainResult.ts';
import type { Explanation, ResultName } from './explanation.ts';

type Whence = { assessment: Assessment; visit: Bench['visit']; storedAs: string };

const WhenceContext = createContext<Whence | null>(null);

/** Says which assessment of which visit the numbers inside are from. */
export function TracedFrom(props: {
  assessment: Assessment | null;
  visit: Bench['visit'];
  storedAs: string;
  children: ReactNode;
}) {
  const { assessment, visit, storedAs, children } = props;
  const whence = useMemo(() => assessment && { assessment, visit, storedAs }, [assessment, visit, storedAs]);
  return <WhenceContext.Provider value={whence}>{children}</WhenceContext.Provider>;
}

/** A result that says on a click how it came about: formula, inputs, source. */
export function TracedResult({ name, children }: { name: ResultName; children: ReactNode }) {
  const whence = useContext(WhenceContext);
  return (
    <Traced explanation={whence && explainResult(name, whence.assessment, whence.visit)}>{children}</Traced>
  );
}

/** Any number that says on a click how it came about; plain where nothing is known of its way. */
export function Traced({ explanation, children }: { explanation: Explanation | null; children: ReactNode }) {
  const [openAt, setOpenAt] = useState<HTMLElement | null>(null);
  if (!explanation) return children;
  const close = () => {
    setOpenAt(null);
    openAt?.focus({ preventScroll: true });
  };
  return (
    <>
      <button
        type="button"
        className="traced"
        title="How this number came about"
        aria-haspopup="dialog"
        aria-expanded={openAt !== null}
        onClick={({ currentTarget }) => setOpenAt(openAt ? null : currentTarget)}
      >
        {children}
      </button>
      {openAt && <WayBox start={explanation} at={openAt} onDismiss={close} />}
    </>
  );
}

type WayBoxProps = { start: Explanation; at: HTMLElement; onDismiss: () => void };

/** Where the way of a number is shown; there only while it is, since numbers are many and are drawn anew with every pick. */
function WayBox({ start, at, onDismiss }: WayBoxProps) {
  const [way, setWay] = useState<readonly ResultName[]>([]);
  const titleId = useId();
  return (
    <Popover
      opened
      onDismiss={onDismiss}
      width={360}
      position="bottom"
      withArrow
      transitionProps={{ duration: 0 }}
      trapFocus
    >
      <Popover.Target>
        <Standing at={at} />
      </Popover.Target>
      <Popover.Dropdown aria-labelledby={titleId}>
        <WayOfNumber start={start} way={way} onWalk={setWay} titleId={titleId} />
      </Popover.Dropdown>
    </Popover>
  );
}

/** Stands for an element that is there already. */
function Standing({ at, ref }: { at: HTMLElement; ref?: Ref<HTMLElement> }) {
  useImperativeHandle(ref, () => at, [at]);
  return null;
}

/** The way of one number, from which that of each input can be walked, and back. */
function WayOfNumber(props: {
  start: Explanation;
  way: readonly ResultName[];
  onWalk: (way: readonly ResultName[]) => void;
  titleId: string;
}) {
  const { start, way, onWalk, titleId } = props;
  const whence = useContext(WhenceContext);
  const explain = (name: ResultName) => whence && explainResult(name, whence.assessment, whence.visit);
  const box = useRef<HTMLDivElement>(null);
  const walk = (next: readonly ResultName[]): void => {
    onWalk(next);
    // the button that was pressed goes away, and the focus with it: Escape would not be heard
    box.current?.focus();
  };
  const last = way.at(-1);
  const { title, value, formula, inputs, source } = (last && explain(last)) || start;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it takes the focus while it is open, so that Escape closes it.
    <div ref={box} className="explanation" tabIndex={0}>
      {last && (
        <button type="button" className="traced" onClick={() => walk(way.slice(0, -1))}>
          ← back
        </button>
      )}
      <h3 id={titleId}>{title}</h3>
      <p>
        <strong>{value}</strong>
      </p>
      <p>{formula}</p>
      <dl className="facts">
        {inputs.map(([input, words, next]) => (
          <div key={input}>
            <dt>{input}</dt>
            <dd>
              {next && explain(next) ? (
                <button
                  type="button"
                  className="traced"
                  title={`How ${input} came about`}
                  onClick={() => walk([...way, next])}
                >
                  {words}
                </button>
              ) : (
                words
              )}
            </dd>
          </div>
        ))}
        <div>
          <dt>Source</dt>
          <dd>{source}</dd>
        </div>
        {whence && (
          <div>
            <dt>Result</dt>
            <dd>
              {whence.storedAs}; {whence.assessment.provenance.program}, inputs{' '}
              {whence.assessment.provenance.inputsSha256.slice(0, 12)}
            </dd>
          </div>
        )}
      </dl>
    </div>
  );
}
