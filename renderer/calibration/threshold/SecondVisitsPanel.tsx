import { ErrorNote, Panel, ScrollRegion, Waiting } from '../../parts/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import { formatChance, formatSignificant } from '../../words/index.ts';
import { useCalibration } from '../useCalibration.ts';

/** Less than this share of a needless replacement sends nobody out (ours). */
const LEAST_WORTH_SHARE = 0.005;

/** Poles to which a second visit would save most, before it is made. */
export function SecondVisitsPanel() {
  const costs = useCalibration((s) => s.thresholds.costs);
  const stored = useWindow((s) => s.stored);
  const openVisit = useWindow((s) => s.openVisit);
  const { value, failure } = useAnswer('calibration.secondVisits', { costs }, stored);
  const least = LEAST_WORTH_SHARE * costs.needlessReplacement;
  const worth = value?.visits.filter((visit) => visit.value >= least) ?? [];
  return (
    <Panel title="Worth a second visit" remark={value && `by ${value.calibration}, in force`}>
      {failure && <ErrorNote failure={failure} />}
      {!value && !failure && <Waiting what="Weighing what second visits would tell." />}
      {value && worth.length === 0 && (
        <p className="nothing">
          {value.known === 0
            ? 'No pole of this workspace has a chance of being below its threshold yet: assess visits first.'
            : value.visits.length === 0
              ? 'The calibration in force does not tell how much of a pole’s spread the measurement makes, so no second visit can be priced.'
              : 'By these costs no pole is worth a second visit.'}
        </p>
      )}
      {worth.length > 0 && (
        <p className="quiet second-visits-note">
          Weighed by the costs beside alone: no ruling, and nothing is said of climbing. The threshold is that
          of the strength-loss rule.
        </p>
      )}
      {worth.length > 0 && (
        <ScrollRegion className="second-visits plain-table fills" label="Poles that are worth a second visit">
          <table>
            <thead>
              <tr>
                <th scope="col">Pole</th>
                <th scope="col" className="is-number">
                  Chance below threshold
                </th>
                <th scope="col">Cheaper by these costs</th>
                <th scope="col" className="is-number">
                  May turn
                </th>
                <th scope="col" className="is-number">
                  Worth
                </th>
              </tr>
            </thead>
            <tbody>
              {worth.map((visit) => (
                <tr key={visit.visitId}>
                  <th scope="row">
                    <button type="button" className="row-opener" onClick={() => openVisit(visit.visitId)}>
                      <strong>{visit.poleId}</strong>
                    </button>
                  </th>
                  <td className="is-number">{formatChance(visit.chanceBelow)}</td>
                  <td>{visit.action === 'keep' ? 'not replacing' : 'replacing'}</td>
                  <td className="is-number">{formatChance(visit.chanceOfChange)}</td>
                  <td className="is-number">{formatSignificant(visit.value, 2)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      )}
    </Panel>
  );
}
