import './results.css';
import { useMemo, useRef } from 'react';
import { type DataTableContent, ErrorNote, Panel, usePalette, Waiting } from '../parts/index.ts';
import { Figure } from '../plots/index.ts';
import type { Assessment, Picture } from '../types.ts';
import { formatEstimate, formatSignificant } from '../words/index.ts';
import { drawStemRoot, rangesOf, type ShownRanges, widen } from './drawStemRoot.ts';
import type { Trial } from './useTrial.ts';

const PA_PER_GPA = 1e9;

/** The plane of stem (E) and root (fixity): what the recordings left possible, against prior and requirement. */
export function StemRootPanel({ trial }: { trial: Trial }) {
  const palette = usePalette();
  const { assessment, picture, failure, waiting } = trial;
  const shownRef = useRef<ShownRanges | null>(null);
  const figure = useMemo(() => {
    if (!picture) return null;
    shownRef.current = widen(shownRef.current, rangesOf(picture));
    return drawStemRoot(palette, picture, assessment, shownRef.current);
  }, [palette, picture, assessment]);
  return (
    <Panel
      title="Stem against root"
      remark={waiting ? 'fitting anew' : picture && nameLines(picture)}
      {...(picture && { table: tableOf(assessment, picture) })}
    >
      {failure && <ErrorNote failure={failure} />}
      {!failure && !assessment && <Waiting what="Analysing the strikes and fitting stem and root." />}
      {assessment && !picture && (
        <p className="nothing">
          No picture: stem and root were not fitted. {assessment.withheldBecause ?? ''}
        </p>
      )}
      {picture && figure && <Figure label={labelOf(assessment)} data={figure.data} layout={figure.layout} />}
      {assessment && <Reading assessment={assessment} />}
    </Panel>
  );
}

function Reading({ assessment }: { assessment: Assessment }) {
  const { stem, root, identifiability } = assessment;
  if (!stem || !root) return null;
  return (
    <div className="reading">
      <dl>
        <div>
          <dt>Stem, E</dt>
          <dd>{formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA)}</dd>
        </div>
        <div>
          <dt>Root, fixity</dt>
          <dd>{formatEstimate(root.fixity, '')}</dd>
        </div>
      </dl>
      {identifiability && (
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
  return `+ median; inner line holds ${inner}, outer ${outer}`;
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
