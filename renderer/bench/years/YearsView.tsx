import './years.css';
import { Button } from '@mantine/core';
import { useMemo } from 'react';
import {
  type DataTableContent,
  ErrorNote,
  Panel,
  ScrollRegion,
  usePalette,
  Waiting,
} from '../../parts/index.ts';
import { Figure } from '../../plots/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import type { HistoryVisit, PoleHistory } from '../../types.ts';
import { formatEstimate, formatMoment, formatSignificant } from '../../words/index.ts';
import { drawYears } from './drawYears.ts';

const PA_PER_GPA = 1e9;
const NM_PER_KNM = 1e3;
const MODES = [1, 2, 3] as const;

/** The same pole over the years: what each visit told, and what changed since the one before. */
export function YearsView({ visitId }: { visitId: number }) {
  const stored = useWindow((s) => s.stored);
  const { value, failure } = useAnswer('pole.history', { visitId }, stored);
  const palette = usePalette();
  const figure = useMemo(() => value && drawYears(palette, value.visits), [palette, value]);
  if (failure) return <ErrorNote failure={failure} />;
  if (!value || !figure) return <Waiting what="Gathering the visits to this pole." />;
  return (
    <div className="years">
      <Panel
        title="Before and after"
        remark="bars: 90 %; frequencies: two standard deviations; line: requirement, dashes below it: threshold"
        table={tabulate(value)}
      >
        <Figure label={describe(value)} data={figure.data} layout={figure.layout} />
      </Panel>
      <section className="panel" aria-labelledby="years-title">
        <header className="panel-head">
          <h2 id="years-title">Visits to {value.poleId}</h2>
        </header>
        <ScrollRegion label="Visits to this pole" className="panel-body years-list">
          <ol>
            {value.visits.map((visit) => (
              <VisitWords key={visit.visitId} visit={visit} visits={value.visits} openId={visitId} />
            ))}
          </ol>
          <Place history={value} />
        </ScrollRegion>
      </section>
    </div>
  );
}

function VisitWords(props: { visit: HistoryVisit; visits: readonly HistoryVisit[]; openId: number }) {
  const { visit, visits, openId } = props;
  const openVisit = useWindow((s) => s.openVisit);
  const correction = visits.find((other) => other.visitId === visit.correctedBy);
  return (
    <li>
      <strong>{visit.date}</strong>, {visit.verdict}
      {visit.ruling && `, ruled “${visit.ruling.decision}”`}{' '}
      {visit.visitId === openId ? (
        <span className="quiet">on the bench now</span>
      ) : (
        <Button
          size="compact-xs"
          variant="default"
          aria-label={`Open the visit of ${visit.date}, ${visit.file}`}
          onClick={() => openVisit(visit.visitId)}
        >
          open
        </Button>
      )}
      {correction && (
        <p>
          The same visit as {correction.file}, which corrects this file: they share recordings, byte for byte.
          Left out of the picture.
        </p>
      )}
      {visit.changes && <p>Changed: {visit.changes}.</p>}
      <p className="quiet">
        {visit.file}, brought in {formatMoment(visit.importedAt)}
      </p>
    </li>
  );
}

/** Where the pole stands, as plain text that any program of maps takes (RFC 5870). */
function Place({ history: { latitude, longitude } }: { history: PoleHistory }) {
  if (latitude === null || longitude === null) return <p className="quiet">No coordinates were given.</p>;
  return (
    <p>
      Place: <code className="geo">{`geo:${latitude},${longitude}`}</code>
    </p>
  );
}

function describe({ poleId, visits }: PoleHistory): string {
  const shown = visits.filter((visit) => visit.correctedBy === null);
  const words = shown.map((visit) =>
    visit.modulusPa
      ? `${visit.date}: E ${formatEstimate(visit.modulusPa, 'GPa', PA_PER_GPA)}`
      : `${visit.date}: ${visit.verdict}`,
  );
  return `Pole ${poleId} over ${shown.length} visits. ${words.join('; ')}`;
}

function tabulate({ poleId, visits }: PoleHistory): DataTableContent {
  return {
    caption: `Visits to ${poleId}: 90 % intervals, frequencies as means over the planes`,
    columns: [
      'Visit',
      'Verdict',
      'E, GPa',
      'Fixity',
      'Capacity, kN·m',
      'Required',
      'Threshold',
      ...MODES.map((number) => `f${number}, Hz`),
      'Changed',
    ],
    rows: visits.map((visit) => [
      visit.correctedBy === null ? visit.date : `${visit.date}, corrected since (file ${visit.file})`,
      visit.verdict,
      visit.modulusPa ? formatEstimate(visit.modulusPa, '', PA_PER_GPA) : '',
      visit.fixity ? formatEstimate(visit.fixity, '') : '',
      visit.capacityNm ? formatEstimate(visit.capacityNm, '', NM_PER_KNM) : '',
      visit.requirementNm === null ? '' : formatSignificant(visit.requirementNm / NM_PER_KNM),
      visit.thresholdNm === null ? '' : formatSignificant(visit.thresholdNm / NM_PER_KNM),
      ...MODES.map((number) => meanOf(visit, number)),
      visit.changes ?? '',
    ]),
  };
}

function meanOf({ modes }: HistoryVisit, number: number): string {
  const own = modes.filter((mode) => mode.number === number);
  if (own.length === 0) return '';
  return formatSignificant(own.reduce((sum, mode) => sum + mode.frequencyHz.value, 0) / own.length, 4);
}
