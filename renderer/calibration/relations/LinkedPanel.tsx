import { useMemo } from 'react';
import { Panel, usePalette } from '../../parts/index.ts';
import { Figure } from '../../plots/index.ts';
import type { JudgedRelation } from '../calibrationTypes.ts';
import { PointField } from '../linked/PointField.tsx';
import { useCalibration } from '../useCalibration.ts';
import { drawPicture, framesOf, type PictureKind, type TestWords, tableOf } from './pictures/index.ts';

type LinkedPanelProps = {
  kind: PictureKind;
  judged: JudgedRelation;
  wordsOf: (testId: number) => TestWords;
};

/** One of the linked pictures of a relation, with its points to be chosen. */
export function LinkedPanel({ kind, judged, wordsOf }: LinkedPanelProps) {
  const palette = usePalette();
  const chosen = useCalibration((s) => s.chosen);
  const { picture, points } = useMemo(
    () => drawPicture(kind, palette, judged, wordsOf, chosen),
    [kind, palette, judged, wordsOf, chosen],
  );
  return (
    <Panel title={kind.title} remark={kind.remark} table={tableOf(kind, judged, wordsOf)}>
      <Figure label={kind.label(judged)} data={picture.data} layout={picture.layout}>
        {({ width, height }) => (
          <PointField
            label={`Tests in ${kind.title.toLowerCase()}`}
            points={points}
            frames={framesOf(picture, width, height)}
            width={width}
          />
        )}
      </Figure>
    </Panel>
  );
}
