import './reports.css';
import { Button, CloseButton, Modal, Radio } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote, saveFile } from '../parts/index.ts';
import type { CallResponse, Failure, ReportFormat } from '../types.ts';
import { readBytes } from './readBytes.ts';
import { type ReportChoice, useReports } from './useReports.ts';

const FORMATS: readonly { format: ReportFormat; words: string }[] = [
  { format: 'html', words: 'HTML: the printed file, for any browser' },
  { format: 'pdf', words: 'PDF: the same, printed here' },
  { format: 'csv', words: 'CSV: a row a visit, for a spreadsheet' },
  { format: 'parquet', words: 'Parquet: the same columns, for statistics programs' },
  { format: 'geojson', words: 'GeoJSON: a point a pole with its latest visit, for maps' },
  { format: 'json', words: 'JSON: whole results, picks and rulings, for other programs' },
];

/** Which visits go into a file, and of which kind it is. */
export function ReportDialog() {
  const { choices, close } = useReports();
  return (
    <Modal.Root opened={choices !== null} onClose={close} transitionProps={{ duration: 0 }}>
      <Modal.Overlay />
      <Modal.Content aria-label="Report">
        <Modal.Body>
          <div className="dialog-head">
            <h2>Report</h2>
            <CloseButton aria-label="Close" onClick={close} />
          </div>
          {choices && <ReportForm choices={choices} />}
        </Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}

function ReportForm({ choices }: { choices: readonly ReportChoice[] }) {
  const [chosen, setChosen] = useState(0);
  const [format, setFormat] = useState<ReportFormat>('html');
  const [busy, setBusy] = useState(false);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [made, setMade] = useState<CallResponse<'reports.make'> | null>(null);

  async function make(): Promise<void> {
    setBusy(true);
    setMade(null);
    const answer = await callHost('reports.make', { subject: choices[chosen]!.subject, format });
    setBusy(false);
    setFailure(answer.ok ? null : answer);
    if (!answer.ok) return;
    setMade(answer.value);
    saveFile(answer.value.fileName, readBytes(answer.value.base64), answer.value.mediaType);
  }

  return (
    <div className="report-form">
      <Radio.Group label="Visits" value={String(chosen)} onChange={(value) => setChosen(Number(value))}>
        {choices.map(({ words }, index) => (
          <Radio key={words} size="xs" value={String(index)} label={words} />
        ))}
      </Radio.Group>
      <Radio.Group label="File" value={format} onChange={(value) => setFormat(value as ReportFormat)}>
        {FORMATS.map(({ format: value, words }) => (
          <Radio key={value} size="xs" value={value} label={words} />
        ))}
      </Radio.Group>
      <Button size="sm" disabled={busy} onClick={() => void make()}>
        Make the file
      </Button>
      <div role="status">
        {busy && <p className="quiet">Gathering results and writing the file.</p>}
        {made && <Made made={made} />}
      </div>
      {failure && <ErrorNote failure={failure} />}
    </div>
  );
}

function Made({ made: { fileName, visits, leftOut } }: { made: CallResponse<'reports.make'> }) {
  return (
    <>
      <p>
        {fileName}: {visits === 1 ? '1 visit' : `${visits} visits`}.
      </p>
      {leftOut.length > 0 && (
        <p>
          Left out: {leftOut.map(({ poleId, date, reason }) => `${poleId} of ${date} (${reason})`).join(', ')}
          .
        </p>
      )}
    </>
  );
}
