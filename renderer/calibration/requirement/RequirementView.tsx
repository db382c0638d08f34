import './requirement.css';
import { ErrorNote, useWrongFields, Waiting, WrongFieldsContext } from '../../parts/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import { LoadsPanel } from './LoadsPanel.tsx';
import { ProfileForm } from './ProfileForm.tsx';
import { ProfilesPanel } from './ProfilesPanel.tsx';
import { TriedPanel } from './TriedPanel.tsx';

/** What a line asks of its poles: wind, conductors, equipment, factors and rule, laid against a pole and kept. */
export function RequirementView() {
  const stored = useWindow((s) => s.stored);
  const settings = useAnswer('profiles.settings', {});
  const kept = useAnswer('profiles.list', {}, stored);
  const [wrong, report] = useWrongFields();
  const failure = settings.failure ?? kept.failure;
  if (failure) return <ErrorNote failure={failure} />;
  if (!settings.value || !kept.value) return <Waiting what="Reading the profiles of the line." />;
  return (
    <div className="choices-and-results requirement">
      <div className="requirement-side">
        <WrongFieldsContext value={report}>
          <ProfileForm settings={settings.value} />
        </WrongFieldsContext>
      </div>
      <div className="requirement-main">
        <WrongFieldsContext value={report}>
          <LoadsPanel />
        </WrongFieldsContext>
        <TriedPanel settings={settings.value} wrongInProfile={wrong} />
        <ProfilesPanel {...kept.value} wrong={wrong} />
      </div>
    </div>
  );
}
