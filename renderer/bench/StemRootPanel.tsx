import './results.css';
import { Button } from '@mantine/core';
import { useMemo, useRef } from 'react';
import { type DataTableContent, ErrorNote, Panel, usePalette, Waiting } from '../parts/index.ts';
import { Figure } from '../plots/index.ts';
import { type Thought, useBench } from '../state/index.ts';
import type { Assessment, Bench, Picture } from '../types.ts';
import { formatEstimate, formatSignificant } from '../words/index.ts';
import { drawStemRoot, framesOf, rangesOf, type ShownRanges, widen } from './drawStemRoot.ts';
import { TracedResult } from './provenance/index.ts';
import { StemRootGround } from './StemRootGround.tsx';
import { StemRootMarks } from './StemRootMarks.tsx';
import { ThoughtHandle } from './ThoughtHandle.tsx';
import { ThoughtStrip } from './ThoughtStrip.tsx';
import type { Thinking } from './useThought.ts';
import type { Trial } from './useTrial.ts';

const PA_PER_GPA = 1e9;

type StemRootPanelProps = { trial: Trial; isOvertaken: boolean; thinking: Thinking; visit: Bench['visit'] };

/**
 * The plane of stem (E) and root (fixity): what the recordings left possible, against prior and requirement; and on
 * demand a point in thought, to see what such a pole would ring like.
 */
export function StemRootPanel({ trial, isOvertaken, thinking, visit }: StemRootPanelProps) {
  const palette = usePalette();
  const { assessment, picture, failure } = trial;
  const { choices, change: choose } = useBench();
  const { thought } = choices;
  const shownRef = useRef<ShownRanges | null>(null);
  const ranges = useMemo(() => {
    if (picture) shownRef.current = widen(shownRef.current, rangesOf(picture));
    return shownRef.current;
  }, [picture]);
  const figure = useMemo(() => ranges && drawStemRoot(palette, ranges), [palette, ranges]);
  const fitted = placeOf(assessment);
  const place = thought?.place ?? fitted;
  const withheld = isWithheld(assessment);
  const change = (part: Partial<Thought>, key?: string) =>
    thought && choose({ thought: { ...thought, ...part } }, 'the pole in thought', key);

  return (
    <Panel
      title="Stem against root"
      remark={sayRemark(trial)}
      isOvertaken={isOvertaken}
      {...(picture && { table: tableOf(assessment, picture) })}
      controls={
        (thought !== null || fitted) && (
          <Button
            size="compact-xs"
            variant="default"
            title={thought ? 'Drop what is in thought' : 'Change the pole in thought; nothing is stored'}
            onClick={() =>
              choose(
                { thought: thought ? null : beginThought(visit) },
                thought ? 'back to the fit' : 'a pole in thought',
              )
            }
          >
            {thought ? 'Back to the fit' : 'What if'}
          </Button>
        )
      }
    >
      {failure && <ErrorNote failure={failure} />}
      {!failure && !assessment && <Waiting what="Analysing the strikes and fitting stem and root." />}
      {assessment && !picture && (
        <p className="nothing">
          No picture: stem and root were not fitted. {assessment.withheldBecause ?? ''}
        </p>
      )}
      {picture && ranges && figure && (
        <div className={classesOf(thought !== null, withheld)}>
          <Figure label={labelOf(assessment)} data={figure.data} layout={figure.layout}>
            {({ width, height }) => {
              const frames = framesOf(width, height, ranges);
              return (
                <>
                  <StemRootGround picture={picture} frames={frames} />
                  <StemRootMarks picture={picture} assessment={assessment} frames={frames} />
                  {thought && place && fitted && (
                    <ThoughtHandle
                      place={place}
                      fitted={fitted}
                      frames={frames}
                      onMove={(next, key) => change({ place: next }, key)}
                    />
                  )}
                </>
              );
            }}
          </Figure>
          {thought && place && (
            <ThoughtStrip thought={thought} place={place} thinking={thinking} onChange={change} />
          )}
        </div>
      )}
      {assessment && <Reading assessment={assessment} />}
    </Panel>
  );
}

function isWithheld(assessment: Assessment | null): boolean {
  return Boolean(assessment?.withheldBecause) && assessment?.withheldBy !== 'calibration';
}

function classesOf(isThought: boolean, isWithheld: boolean): string {
  return ['stem-root', isThought && 'is-thought', isWithheld && 'is-withheld'].filter(Boolean).join(' ');
}

/** What the picture is worth: an answer to earlier choices, one that is withheld, or what its lines are. */
function sayRemark({ waiting, assessment, picture }: Trial): string | null {
  if (waiting) return 'fitting anew';
  if (isWithheld(assessment) && picture) return 'withheld: no result, shown to judge the picks by';
  return picture && nameLines(picture);
}

function placeOf(assessment: Assessment | null): Thought['place'] {
  const { stem, root } = assessment ?? {};
  return stem && root ? { modulusPa: stem.modulusPa.value, fixity: root.fixity.value } : null;
}

/** Nothing changed yet; a mass would hang where the cables or other attachments hang. */
function beginThought({ measured }: Bench['visit']): Thought {
  const massHeightM = measured.cables[0]?.heightM ?? measured.attachments[0]?.heightM ?? null;
  return { place: null, cableFactor: null, massKg: null, massHeightM, settingDepthM: null };
}

function Reading({ assessment }: { assessment: Assessment }) {
  const { stem, root, identifiability, withheldBecause } = assessment;
  if (!stem || !root) return null;
  return (
    <div className="reading">
      {isWithheld(assessment) && (
        <p>
          <strong>Withheld: these are no result.</strong> They show where the picks lead; why they do not
          count is said below.
        </p>
      )}
      <dl>
        <div>
          <dt>Stem, E</dt>
          <dd>
            <TracedResult name="modulus">{formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA)}</TracedResult>
          </dd>
        </div>
        <div>
          <dt>Root, fixity</dt>
          <dd>
            <TracedResult name="fixity">{formatEstimate(root.fixity, '')}</TracedResult>
          </dd>
        </div>
      </dl>
      {identifiability && !withheldBecause && (
        <p>
          <strong>Stem and root {identifiability.verdict}.</strong> {identifiability.advice}
        </p>
      )}
    </div>
  );
}

/** What the lines of the picture are, in words. */
function nameLines(picture: Picture): string {
  const levels = picture.credibleLevels.map((level) => level.probability).sort((a, b) => a - b);
  const [inner, outer] = [levels[0], levels.at(-1)].map((p) => `${Math.round((p ?? 0) * 100)} %`);
  return `+ median; lines hold ${inner} and ${outer}`;
}

function labelOf(assessment: Assessment | null): string {
  const { stem, root, identifiability } = assessment ?? {};
  if (!stem || !root) return 'Stem against root: nothing fitted';
  return `Stem against root: E ${formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA)}, fixity ${formatEstimate(root.fixity, '')}, ${identifiability?.verdict ?? ''}`;
}

function tableOf(assessment: Assessment | null, picture: Picture): DataTableContent {
  const { stem, root } = assessment ?? {};
  const gpa = (pa: number) => formatSignificant(pa / PA_PER_GPA);
  return {
    caption: 'Stem and root: estimate, usual range before recording, and requirement',
    columns: ['Quantity', 'E, GPa', 'Fixity'],
    rows: [
      ...(stem && root
        ? [
            ['median', gpa(stem.modulusPa.value), formatSignificant(root.fixity.value)],
            [
              `interval of ${Math.round(stem.modulusPa.level * 100)} %`,
              `${gpa(stem.modulusPa.low)} to ${gpa(stem.modulusPa.high)}`,
              `${formatSignificant(root.fixity.low)} to ${formatSignificant(root.fixity.high)}`,
            ],
          ]
        : []),
      [
        'usual before recording, 90 %',
        picture.classRange.modulusPa.map(gpa).join(' to '),
        picture.classRange.fixity.map((x) => formatSignificant(x)).join(' to '),
      ],
      ['required', picture.requiredModulusPa === null ? 'none' : gpa(picture.requiredModulusPa), 'none'],
    ],
  };
}
