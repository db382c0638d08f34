import './provenance.css';
import { Popover } from '@mantine/core';
import { createContext, type ReactNode, useContext, useId } from 'react';
import type { Assessment } from '../../types.ts';
import { explainResult, type ResultName } from './explainResult.ts';
import type { Explanation } from './explanation.ts';

type Whence = { assessment: Assessment; storedAs: string };

const WhenceContext = createContext<Whence | null>(null);

/** Says which assessment the numbers inside are from. */
export function TracedFrom(props: { assessment: Assessment | null; storedAs: string; children: ReactNode }) {
  const { assessment, storedAs, children } = props;
  return (
    <WhenceContext.Provider value={assessment && { assessment, storedAs }}>{children}</WhenceContext.Provider>
  );
}

/** A result that says on a click how it came about: formula, inputs, source. */
export function TracedResult({ name, children }: { name: ResultName; children: ReactNode }) {
  const whence = useContext(WhenceContext);
  const explanation = whence && explainResult(name, whence.assessment);
  return <Traced explanation={explanation}>{children}</Traced>;
}

/** Any number that says on a click how it came about; plain where nothing is known of its way. */
export function Traced({ explanation, children }: { explanation: Explanation | null; children: ReactNode }) {
  const whence = useContext(WhenceContext);
  const titleId = useId();
  if (!explanation) return children;
  return (
    <Popover width={360} position="bottom" withArrow transitionProps={{ duration: 0 }} trapFocus>
      <Popover.Target>
        <button type="button" className="traced" title="How this number came about">
          {children}
        </button>
      </Popover.Target>
      <Popover.Dropdown aria-labelledby={titleId}>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it takes the focus while it is open, so that Escape closes it. */}
        <div className="explanation" tabIndex={0}>
          <h3 id={titleId}>{explanation.title}</h3>
          <p>
            <strong>{explanation.value}</strong>
          </p>
          <p>{explanation.formula}</p>
          <dl className="facts">
            {explanation.inputs.map(([input, value]) => (
              <div key={input}>
                <dt>{input}</dt>
                <dd>{value}</dd>
              </div>
            ))}
            <div>
              <dt>Source</dt>
              <dd>{explanation.source}</dd>
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
      </Popover.Dropdown>
    </Popover>
  );
}
