import { Button } from '@mantine/core';
import { UNITS } from '../../../core/workspace/contract.ts';
import type { Answers, Checked, Entry } from '../intakeTypes.ts';
import { labelOf } from './labelOf.ts';
import { ORIGIN_WORDS } from './originWords.ts';

type FormSummaryProps = { answers: Answers; checked: Checked | null };

/** What is still needed, what wants a second look, and which answers nobody typed. */
export function FormSummary({ answers, checked }: FormSummaryProps) {
  const wrong = checked?.problems.filter(({ level }) => level === 'wrong') ?? [];
  const odd = checked?.problems.filter(({ level }) => level === 'odd') ?? [];
  const defaults = listDefaults(answers);
  return (
    <>
      <h2>{wrong.length === 0 ? 'Nothing is missing' : `${wrong.length} to be settled`}</h2>
      <ProblemList problems={wrong} label="To be settled" />
      {odd.length > 0 && (
        <>
          <h2>Look again</h2>
          <ProblemList problems={odd} label="Look again" />
        </>
      )}
      {defaults.length > 0 && (
        <>
          <h2>Nobody typed these</h2>
          <ul className="form-defaults">
            {defaults.map(({ path, entry }) => (
              <li key={path}>
                {labelOf(path)}: {entry.text}
                {entry.unit && ` ${UNITS[entry.unit].symbol}`}{' '}
                {entry.from !== 'typed' && <span className="quiet">({ORIGIN_WORDS[entry.from]})</span>}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function ProblemList({ problems, label }: { problems: Checked['problems']; label: string }) {
  if (problems.length === 0) return null;
  return (
    <ul className="form-problems" aria-label={label}>
      {[...Map.groupBy(problems, ({ words }) => words)].map(([words, alike]) => (
        <li key={words}>
          {alike.map(({ field }) => (
            <Button key={field} size="compact-xs" variant="default" onClick={() => goTo(field)}>
              {labelOf(field)}
            </Button>
          ))}{' '}
          {words}
        </li>
      ))}
    </ul>
  );
}

/** Brings the field of an answer, or the group that it belongs to, under the keyboard. */
function goTo(path: string): void {
  const field = document.querySelector<HTMLElement>(
    `[data-path="${path}"] input, [data-path="${path}"] select`,
  );
  const group = document.querySelector<HTMLElement>(`[data-group="${path.split('.')[0]}"]`);
  const target = field ?? group?.querySelector<HTMLElement>('button, input') ?? null;
  target?.scrollIntoView({ block: 'center' });
  target?.focus();
}

type Default = { path: string; entry: Entry };

function listDefaults(part: unknown, path = ''): Default[] {
  if (typeof part !== 'object' || part === null) return [];
  if ('text' in part && 'from' in part) {
    const entry = part as Entry;
    return entry.from === 'typed' || entry.text === '' ? [] : [{ path, entry }];
  }
  // what is not used is not written
  if ('used' in part && !part.used) return [];
  return Object.entries(part).flatMap(([key, value]) =>
    listDefaults(value, path === '' ? key : `${path}.${key}`),
  );
}
