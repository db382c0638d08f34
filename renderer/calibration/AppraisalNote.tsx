import './appraisal.css';
import { ErrorNote, Waiting } from '../parts/index.ts';
import type { Answer } from '../state/index.ts';
import type { Appraisal } from './calibrationTypes.ts';

/** What is about to be published or put to use, and what speaks against it. */
export function AppraisalNote({ answer }: { answer: Answer<Appraisal> }) {
  const { value, failure } = answer;
  if (failure) return <ErrorNote failure={failure} />;
  if (!value) return <Waiting what="Judging the relation by poles that it did not see." />;
  return (
    <div className="appraisal">
      <dl>
        {value.lines.map(({ name, text }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      {value.weaknesses.length > 0 && (
        <>
          <h3>What speaks against it</h3>
          <ul aria-label="What speaks against it">
            {value.weaknesses.map(({ id, text }) => (
              <li key={`${id} ${text}`}>{text}</li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}
