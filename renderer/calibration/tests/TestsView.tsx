import './tests.css';
import { Button } from '@mantine/core';
import { Panel, ScrollRegion } from '../../parts/index.ts';
import { useWindow } from '../../state/index.ts';
import { describeSpecies, formatSignificant } from '../../words/index.ts';
import type { KeptTest, Tests } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { SeriesNotes } from './SeriesNotes.tsx';
import { TestSets } from './TestSets.tsx';

const PA_PER_MPA = 1e6;
const PA_PER_GPA = 1e9;
const NM_PER_KNM = 1e3;

const figure = (value: number | null, per = 1) =>
  value === null ? <span className="quiet">none</span> : formatSignificant(value / per);

/** Every break test of the workspace, with the table that it is from and the visit that it is linked to. */
export function TestsView({ tests }: { tests: Tests }) {
  const { leftOut, setLeftOut } = useCalibration();
  const linked = tests.tests.filter(({ visitId }) => visitId !== null).length;
  const out = tests.tests.filter(({ testId }) => leftOut.includes(testId)).length;
  const toggle = (testId: number) =>
    setLeftOut(leftOut.includes(testId) ? leftOut.filter((own) => own !== testId) : [...leftOut, testId]);
  return (
    <div className="tests">
      <Panel
        title="Tables"
        remark={`${tests.tests.length} tests, ${linked === 0 ? 'none' : linked} linked to visits`}
      >
        <TestSets tests={tests} />
        <SeriesNotes notes={tests.notes} />
      </Panel>
      <Panel
        title="Tests"
        remark={out > 0 ? `${out} left out` : 'all are used'}
        controls={
          out > 0 && (
            <Button size="compact-xs" variant="default" onClick={() => setLeftOut([])}>
              Take all in again
            </Button>
          )
        }
      >
        <ScrollRegion className="test-list plain-table fills" label="Break tests">
          <table>
            <thead>
              <tr>
                <th scope="col">Use</th>
                <th scope="col">Test</th>
                <th scope="col">Species, treatment</th>
                <th scope="col" className="is-number">
                  Age, years
                </th>
                <th scope="col" className="is-number">
                  Girth, m
                </th>
                <th scope="col" className="is-number">
                  E, GPa
                </th>
                {[1, 2, 3].map((mode) => (
                  <th key={mode} scope="col" className="is-number">
                    f{mode}, Hz
                  </th>
                ))}
                <th scope="col" className="is-number">
                  Fixity
                </th>
                <th scope="col" className="is-number">
                  Moment at ground line, kN·m
                </th>
                <th scope="col" className="is-number">
                  Stress there, MPa
                </th>
                <th scope="col" className="is-number">
                  Stress where it broke, MPa
                </th>
                <th scope="col">Pole</th>
              </tr>
            </thead>
            <tbody>
              {tests.tests.map((test) => (
                <TestRow
                  key={test.testId}
                  test={test}
                  isUsed={!leftOut.includes(test.testId)}
                  onToggle={toggle}
                />
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      </Panel>
    </div>
  );
}

type TestRowProps = { test: KeptTest; isUsed: boolean; onToggle: (testId: number) => void };

function TestRow({ test, isUsed, onToggle }: TestRowProps) {
  const openVisit = useWindow((s) => s.openVisit);
  return (
    <tr className={isUsed ? undefined : 'is-left-out'}>
      <td>
        <input
          type="checkbox"
          checked={isUsed}
          aria-label={`Use test ${test.name}`}
          onChange={() => onToggle(test.testId)}
        />
      </td>
      <th scope="row">{test.name}</th>
      <td>
        {describeSpecies(test.species)}
        {test.treatment && `, ${test.treatment}`}
      </td>
      <td className="is-number">{test.ageYears === null ? figure(null) : Math.round(test.ageYears)}</td>
      <td className="is-number">{figure(test.circumferenceM)}</td>
      <td className="is-number">{figure(test.modulusPa, PA_PER_GPA)}</td>
      {test.frequenciesHz.map((frequencyHz, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: modes 1 to 3 stand in order.
        <td key={i} className="is-number">
          {figure(frequencyHz)}
        </td>
      ))}
      <td className="is-number">{figure(test.fixity)}</td>
      <td className="is-number">{figure(test.groundlineMomentNm, NM_PER_KNM)}</td>
      <td className="is-number">{figure(test.groundlineStressPa, PA_PER_MPA)}</td>
      <td className="is-number">{figure(test.modulusOfRupturePa, PA_PER_MPA)}</td>
      <td title={test.remark ?? undefined}>
        {test.visitId !== null && (
          <Button
            size="compact-xs"
            variant="default"
            aria-label={`Open pole ${test.poleId}`}
            onClick={() => openVisit(test.visitId!)}
          >
            Open
          </Button>
        )}
        {test.remark && <span className="quiet"> {test.remark}</span>}
      </td>
    </tr>
  );
}
