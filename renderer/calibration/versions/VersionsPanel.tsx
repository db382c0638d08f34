import { Button, FileButton } from '@mantine/core';
import { IconDownload, IconUpload } from '@tabler/icons-react';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, Panel, readBase64, ScrollRegion, saveFile } from '../../parts/index.ts';
import { useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { formatSignificant } from '../../words/index.ts';
import type { ListedCalibration, Overview } from '../calibrationTypes.ts';
import { UseDialog } from './UseDialog.tsx';

/** Every calibration of the workspace; the one in force is what new assessments take. */
export function VersionsPanel({ overview }: { overview: Overview }) {
  const noteStored = useWindow((s) => s.noteStored);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [told, setTold] = useState('');
  const [wanted, setWanted] = useState<ListedCalibration | null>(null);

  async function exportOne(calibrationId: number): Promise<void> {
    const answer = await callHost('calibration.export', { calibrationId });
    setFailure(answer.ok ? null : answer);
    if (answer.ok) saveFile(answer.value.fileName, answer.value.json, 'application/json');
  }

  async function bringIn(file: File | null): Promise<void> {
    if (!file) return;
    const answer = await callHost('calibration.import', {
      fileName: file.name,
      base64: await readBase64(file),
    });
    setFailure(answer.ok ? null : answer);
    if (!answer.ok) return;
    setTold(
      answer.value.isNew
        ? `${answer.value.label} is in this workspace now.`
        : `${answer.value.label} was here already.`,
    );
    noteStored();
  }

  return (
    <Panel
      title="Versions"
      remark="a published one never changes"
      controls={
        <FileButton accept=".json,application/json" onChange={(file) => void bringIn(file)}>
          {(props) => (
            <Button {...props} size="compact-xs" variant="default" leftSection={<IconUpload size={13} />}>
              Bring in from a file
            </Button>
          )}
        </FileButton>
      }
    >
      {failure && <ErrorNote failure={failure} />}
      <p className="told" role="status">
        {told}
      </p>
      <ScrollRegion className="plain-table fills" label="Calibrations of this workspace">
        <table>
          <thead>
            <tr>
              <th scope="col">Calibration</th>
              <th scope="col">Author, date, note</th>
              <th scope="col" className="is-number">
                Tests
              </th>
              <th scope="col" className="is-number" title="Visits whose newest result was made under it">
                Newest
              </th>
              <th
                scope="col"
                className="is-number"
                title="All results that were made under it: they are kept when a newer one stands beside them"
              >
                Kept
              </th>
              <th scope="col">
                <span className="visually-hidden">What can be done</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {overview.calibrations.map((calibration) => (
              <VersionRow
                key={calibration.label}
                calibration={calibration}
                isInForce={calibration.calibrationId === overview.inForce.calibrationId}
                onExport={exportOne}
                onUse={() => setWanted(calibration)}
              />
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {wanted && (
        <UseDialog
          calibration={wanted}
          inForce={overview.inForce.calibrationId}
          onClose={() => setWanted(null)}
        />
      )}
    </Panel>
  );
}

type VersionRowProps = {
  calibration: ListedCalibration;
  isInForce: boolean;
  onExport: (calibrationId: number) => Promise<void>;
  onUse: () => void;
};

function VersionRow({ calibration, isInForce, onExport, onUse }: VersionRowProps) {
  const {
    calibrationId,
    label,
    origin,
    author,
    publishedAt,
    note,
    tests,
    setAside,
    range,
    results,
    kept,
    about,
  } = calibration;
  const spans = range.map(
    ({ label: name, min, max, unit }) =>
      `${name} ${formatSignificant(min)} to ${formatSignificant(max)} ${unit}`,
  );
  return (
    <tr className={isInForce ? 'is-current' : undefined}>
      <th scope="row" title={[about, ...spans].join('\n')}>
        {label}
        {isInForce && <span className="in-force">in force</span>}
      </th>
      <td>
        {author === null
          ? 'built in'
          : `${author}, ${publishedAt?.slice(0, 10)}${origin === 'imported' ? ', brought in' : ''}`}
        {note && <span className="quiet version-note">{note}</span>}
        {setAside && <strong className="version-note">{setAside}</strong>}
      </td>
      <td className="is-number">{tests}</td>
      <td className="is-number">{results}</td>
      <td className="is-number">{kept}</td>
      <td>
        <div className="version-commands">
          {!isInForce && (
            <Button
              size="compact-xs"
              variant="default"
              aria-label={`Use ${label} for new results`}
              onClick={onUse}
            >
              Use
            </Button>
          )}
          {calibrationId !== null && (
            <Button
              size="compact-xs"
              variant="default"
              aria-label={`Save ${label} as a file`}
              title="Save as one file, for another workspace"
              onClick={() => void onExport(calibrationId)}
            >
              <IconDownload size={14} />
            </Button>
          )}
        </div>
      </td>
    </tr>
  );
}
