import { Button } from '@mantine/core';
import { collectAdvice, collectFindings } from '../../core/workspace/contract.ts';
import { PlaneMark } from '../parts/index.ts';
import type { Assessment, Bench } from '../types.ts';
import { formatChance, formatShare, formatSignificant, nameFinding, namePlane } from '../words/index.ts';
import type { Plane } from './pickRows.ts';
import type { PickCommands } from './usePicks.ts';

const SHOWN_RIVALS = 3;

/** What the program found odd about the pole, and which peaks it took for which modes. */
export function FindingNotes({
  assessment,
  compared,
  planes,
  commands,
}: {
  assessment: Assessment;
  /** What is told of the visit beside the others of the workspace. */
  compared: Bench['compared'];
  planes: readonly Plane[];
  commands: PickCommands;
}) {
  const { assignments, modes, identifiability } = assessment;
  const findings = collectFindings(assessment, compared);
  const next = identifiability?.nextMeasurements ?? [];
  const missing = assessment.missingModes ?? [];
  const advice = assessment.verdict === 'withheld' ? collectAdvice(assessment) : [];
  const [used, ...rivals] = assignments;
  return (
    <>
      {advice.length > 0 && (
        <>
          <h3>What to do next</h3>
          <ul className="plain-list">
            {advice.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </>
      )}
      {advice.length > 0 && <h3>What was found</h3>}
      {findings.length === 0 && <p>Nothing odd was found. That is no proof of a sound pole.</p>}
      <ul className="plain-list">
        {findings.map((finding) => (
          <li key={finding.id + finding.text}>
            <strong>{nameFinding(finding.id)}</strong>: {finding.text}
          </li>
        ))}
      </ul>
      {next.length > 0 && (
        <>
          <h3>What would tell more</h3>
          <ol className="plain-list">
            {next.map(({ id, text, stemNarrowing, rootNarrowing }) => (
              <li key={id}>
                {text}{' '}
                <span className="quiet">
                  Expected to narrow the stem by {formatShare(stemNarrowing)}, the root by{' '}
                  {formatShare(rootNarrowing)}.
                </span>
              </li>
            ))}
          </ol>
        </>
      )}
      {missing.length > 0 && (
        <>
          <h3>Modes that no strike shows</h3>
          <ul className="plain-list">
            {missing.map(({ plane, number, reason }) => (
              <li key={`${plane}-${number}`}>
                <PlaneMark plane={plane} number={number} hollow />{' '}
                {namePlane(plane, planes.find((p) => p.plane === plane)?.azimuthDeg ?? 0)}, mode {number}:{' '}
                {reason}
              </li>
            ))}
          </ul>
        </>
      )}
      {used && used.numbers.length > 0 && (
        <>
          <h3>Which peak is which mode</h3>
          <ul className="plain-list">
            <li>
              In use, probability {formatChance(used.probability)}:{' '}
              <Numbers numbers={used.numbers} planes={planes} />
            </li>
            {rivals.slice(0, SHOWN_RIVALS).map((rival) => (
              <li key={JSON.stringify(rival.numbers)}>
                Rival, probability {formatChance(rival.probability)}:{' '}
                <Numbers numbers={rival.numbers} planes={planes} />
                <Button
                  size="compact-xs"
                  variant="default"
                  title="Makes these picks yours; undo takes them back"
                  onClick={() => commands.adopt(rival.numbers)}
                >
                  Use this numbering
                </Button>
              </li>
            ))}
            {rivals.length === 0 && <li>No other numbering of the peaks comes near.</li>}
          </ul>
        </>
      )}
      {modes.some((mode) => mode.reason !== '') && (
        <>
          <h3>Why these picks</h3>
          <ul className="plain-list">
            {modes
              .filter((mode) => mode.reason !== '')
              .map((mode) => (
                <li key={`${mode.plane}-${mode.number}`}>
                  <PlaneMark plane={planes.findIndex((p) => p.plane === mode.plane)} number={mode.number} />{' '}
                  {formatSignificant(mode.frequencyHz.value, 4)} Hz: {mode.reason}
                </li>
              ))}
          </ul>
        </>
      )}
    </>
  );
}

function Numbers({
  numbers,
  planes,
}: {
  numbers: Assessment['assignments'][number]['numbers'];
  planes: readonly Plane[];
}) {
  return planes.map(({ plane, azimuthDeg }) => (
    <span key={plane} className="numbers-of-plane">
      {namePlane(plane, azimuthDeg)}:{' '}
      {numbers
        .filter((peak) => peak.plane === plane)
        .map(
          ({ frequencyHz, number }) =>
            `${formatSignificant(frequencyHz)} Hz ${number === null ? 'no mode' : `mode ${number}`}`,
        )
        .join(', ') || 'no peaks'}
    </span>
  ));
}
