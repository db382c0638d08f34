import { Button } from '@mantine/core';
import { useState } from 'react';
import { ErrorNote, Panel, ScrollRegion, useWrongFields, WrongFieldsContext } from '../../parts/index.ts';
import { useAnswer } from '../../state/index.ts';
import { formatSignificant } from '../../words/index.ts';
import type { ProfileSettings } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { ClassTables } from './ClassTables.tsx';
import { NumberLine } from './ProfileForm.tsx';

const NM_PER_KNM = 1000;
const GIRTH = { least: 0.1, most: 4, unit: 'm' };
const UNSAID = 'not said yet';

/** What the loads ask of one pole at ground line, load by load. */
export function TriedPanel(props: { settings: ProfileSettings; wrongInProfile: readonly string[] }) {
  const { settings, wrongInProfile } = props;
  const { requirement, setTriedPole } = useCalibration();
  const { profile, pole } = requirement;
  const [tables, setTables] = useState(false);
  const [wrongOfPole, report] = useWrongFields();
  const wrong = [...wrongInProfile, ...wrongOfPole];
  const hasLoads =
    profile.wind != null || profile.conductors.length + profile.equipment.length + profile.forces.length > 0;
  const asked = useAnswer(
    'profiles.try',
    hasLoads
      ? { profile: { ...profile, name: profile.name || UNSAID, source: profile.source || UNSAID }, pole }
      : null,
  );
  return (
    <Panel
      title="On a pole"
      remark="at ground line"
      controls={
        <Button size="compact-xs" variant="default" onClick={() => setTables(true)}>
          Class loads and fibre stresses
        </Button>
      }
    >
      <ScrollRegion className="tried" label="What the loads ask of a pole">
        <WrongFieldsContext value={report}>
          <div className="tried-pole">
            <NumberLine
              label="Tip above ground, m"
              value={pole.tipHeightM}
              limits={{ least: 2, most: 60, unit: 'm' }}
              onCommit={(tipHeightM) => setTriedPole({ ...pole, tipHeightM })}
            />
            <NumberLine
              label="Girth at ground, m"
              value={pole.groundlineCircumferenceM}
              limits={GIRTH}
              onCommit={(groundlineCircumferenceM) => setTriedPole({ ...pole, groundlineCircumferenceM })}
            />
            <NumberLine
              label="Girth at the tip, m"
              value={pole.tipCircumferenceM}
              limits={GIRTH}
              onCommit={(tipCircumferenceM) => setTriedPole({ ...pole, tipCircumferenceM })}
            />
          </div>
        </WrongFieldsContext>
        {!hasLoads && <p className="nothing">Nothing bends the pole yet: choose a wind, or add a load.</p>}
        {hasLoads && asked.failure && <ErrorNote failure={asked.failure} />}
        {hasLoads && asked.value && (
          <div className={wrong.length > 0 ? 'is-not-typed' : undefined}>
            {wrong.length > 0 && (
              <p role="status">Not of what is typed: {wrong.join('; ')} cannot be taken.</p>
            )}
            <p className="tried-sum" aria-live="polite">
              <strong>{inKnm(asked.value.groundlineMomentNm)} kN·m</strong> required; replaced or restored
              below <strong>{inKnm(asked.value.thresholdMomentNm)} kN·m</strong>
            </p>
            <div className="plain-table">
              <table>
                <thead>
                  <tr>
                    <th scope="col">Load</th>
                    <th scope="col" className="is-number">
                      N
                    </th>
                    <th scope="col" className="is-number">
                      Arm, m
                    </th>
                    <th scope="col" className="is-number">
                      Factor
                    </th>
                    <th scope="col" className="is-number">
                      Required, kN·m
                    </th>
                  </tr>
                </thead>
                <tbody>
                  {asked.value.items.map(({ name, loadN, armM, factor, requiredMomentNm }, i) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: two loads may be alike in all
                    <tr key={i}>
                      <td>{name}</td>
                      <td className="is-number">{formatSignificant(loadN)}</td>
                      <td className="is-number">{armM.toFixed(2)}</td>
                      <td className="is-number">{factor.toFixed(2)}</td>
                      <td className="is-number">{inKnm(requiredMomentNm)}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          </div>
        )}
        <p className="quiet source-line">
          All loads to the same side; no lean, no guys, no weight of ice. Check your local code; a licensed
          engineer decides.
        </p>
      </ScrollRegion>
      {tables && <ClassTables settings={settings} onClose={() => setTables(false)} />}
    </Panel>
  );
}

function inKnm(momentNm: number): string {
  return formatSignificant(momentNm / NM_PER_KNM);
}
