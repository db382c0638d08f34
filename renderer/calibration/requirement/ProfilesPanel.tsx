import { Button } from '@mantine/core';
import { useState } from 'react';
import { Panel, ScrollRegion } from '../../parts/index.ts';
import type { KeptProfile } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { ChooseProfileDialog } from './ChooseProfileDialog.tsx';
import { KeepProfileDialog } from './KeepProfileDialog.tsx';

/** Profiles kept in the workspace, and which poles are compared with them. */
export function ProfilesPanel(props: {
  profiles: readonly KeptProfile[];
  lastChoice: number;
  /** Fields of the profile being entered that hold what cannot be taken. */
  wrong: readonly string[];
}) {
  const { profiles, lastChoice, wrong } = props;
  const { requirement, setProfile } = useCalibration();
  const { name, source } = requirement.profile;
  const [keeping, setKeeping] = useState(false);
  const [choosing, setChoosing] = useState<KeptProfile | 'class' | null>(null);
  const isNamed = name.trim() !== '' && source.trim() !== '';
  return (
    <Panel
      title="Kept profiles"
      remark="a kept version never changes"
      controls={
        <>
          <Button
            size="compact-xs"
            variant="default"
            disabled={profiles.length === 0}
            title={
              profiles.length === 0 ? 'Every pole is compared with the load of its class already' : undefined
            }
            onClick={() => setChoosing('class')}
          >
            Poles back to their class
          </Button>
          <Button
            size="compact-xs"
            disabled={!isNamed || wrong.length > 0}
            title={
              isNamed
                ? 'Keep what is entered as the next version of its name'
                : 'Say its name and whose loads they are first'
            }
            onClick={() => setKeeping(true)}
          >
            Keep
          </Button>
        </>
      }
    >
      {wrong.length > 0 && (
        <p className="not-kept">Not to be kept yet: {wrong.join('; ')} cannot be taken.</p>
      )}
      {profiles.length === 0 ? (
        <p className="nothing">
          None yet: every pole is compared with the load of its class, or with what its visit states.
        </p>
      ) : (
        <ScrollRegion className="plain-table fills" label="Profiles of this workspace">
          <table>
            <thead>
              <tr>
                <th scope="col">Profile</th>
                <th scope="col" className="is-number">
                  Poles
                </th>
                <th scope="col">
                  <span className="visually-hidden">What can be done</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {profiles.map((kept) => (
                <tr key={kept.profileId}>
                  <th scope="row" title={kept.profile.source}>
                    {kept.name}, version {kept.number}
                    <span className="quiet version-note">
                      {kept.author}, {kept.keptAt.slice(0, 10)}
                    </span>
                  </th>
                  <td className="is-number">{kept.poles}</td>
                  <td>
                    <div className="version-commands profile-commands">
                      <Button
                        size="compact-xs"
                        variant="default"
                        aria-label={`Choose ${kept.name}, version ${kept.number}, for poles`}
                        onClick={() => setChoosing(kept)}
                      >
                        Choose for poles
                      </Button>
                      <Button
                        size="compact-xs"
                        variant="default"
                        aria-label={`Start from ${kept.name}, version ${kept.number}`}
                        onClick={() => setProfile(kept.profile)}
                      >
                        Start from it
                      </Button>
                    </div>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      )}
      {keeping && <KeepProfileDialog onClose={() => setKeeping(false)} />}
      {choosing && (
        <ChooseProfileDialog
          profile={choosing === 'class' ? null : choosing}
          lastChoice={lastChoice}
          onClose={() => setChoosing(null)}
        />
      )}
    </Panel>
  );
}
