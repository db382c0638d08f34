import { describeSpecies, formatSignificant } from '../../words/index.ts';
import type { ProfileSettings } from '../calibrationTypes.ts';
import { SmallDialog } from '../SmallDialog.tsx';

/** Class loads and designated fibre stresses, each with how far it was checked. */
export function ClassTables({ settings, onClose }: { settings: ProfileSettings; onClose: () => void }) {
  const { classes, fibreStresses } = settings;
  return (
    <SmallDialog title="Class loads and fibre stresses" size="lg" onClose={onClose}>
      <div className="plain-table class-tables">
        <table>
          <thead>
            <tr>
              <th scope="col">Class</th>
              <th scope="col" className="is-number">
                Load, kN
              </th>
              <th scope="col" className="is-number">
                Least girth at the tip, m
              </th>
              <th scope="col">Checked</th>
            </tr>
          </thead>
          <tbody>
            {classes.map(({ code, loadN, leastTipCircumferenceM, status }) => (
              <tr key={code}>
                <th scope="row">{code}</th>
                <td className="is-number">{formatSignificant(loadN / 1000)}</td>
                <td className="is-number">{leastTipCircumferenceM.toFixed(3)}</td>
                <td>{CHECKED[status] ?? status}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <table>
          <thead>
            <tr>
              <th scope="col">Species</th>
              <th scope="col" className="is-number">
                Fibre stress, MPa
              </th>
              <th scope="col">Checked</th>
            </tr>
          </thead>
          <tbody>
            {fibreStresses.map(({ species, meanPa, status }) => (
              <tr key={species}>
                <th scope="row">{describeSpecies(species)}</th>
                <td className="is-number">{(meanPa / 1e6).toFixed(1)}</td>
                <td>{CHECKED[status] ?? status}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet">The load acts 0.61 m (2 ft) below the tip. {classes[0]?.source}</p>
      <p className="quiet">{fibreStresses[0]?.source}</p>
    </SmallDialog>
  );
}

const CHECKED: Readonly<Record<string, string>> = {
  read: 'in the publication',
  secondary: 'in a copy',
  memory: 'from memory',
  assumed: 'assumed',
};
