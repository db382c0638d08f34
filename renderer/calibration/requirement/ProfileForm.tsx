import { tellWindSource } from '../../../core/workspace/contract.ts';
import { NumberField, Panel } from '../../parts/index.ts';
import { formatSignificant } from '../../words/index.ts';
import type { ProfileSettings, RequirementProfile } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { sourceOf } from './sourceOf.ts';

const NONE = 'none';
const OWN = 'as it stands';
const PRESSURE = { least: 0, most: 20_000, unit: 'Pa' };

/** Name, source, wind, load factors and rule of a profile; what codes have is a start, and wants checking. */
export function ProfileForm({ settings }: { settings: ProfileSettings }) {
  const { requirement, setProfile } = useCalibration();
  const { profile } = requirement;
  const change = (part: Partial<RequirementProfile>) => setProfile({ ...profile, ...part });
  return (
    <Panel title="What the line asks">
      <form className="choices-form profile-form" onSubmit={(event) => event.preventDefault()}>
        <TextLine label="Name" value={profile.name} onChange={(name) => change({ name })} />
        <TextLine label="Whose loads" value={profile.source} onChange={(source) => change({ source })} />
        <WindFields profile={profile} settings={settings} onChange={change} />
        <FactorFields profile={profile} settings={settings} onChange={change} />
        <Start
          label="Strength-loss rule"
          none="none: the moment itself"
          current={profile.rule ? nameOf(settings.rules, profile.rule.source) : NONE}
          starts={settings.rules}
          onStart={(rule) => change({ rule: rule && { factor: rule.factor, source: rule.source } })}
        />
        {profile.rule && <p className="quiet source-line">{profile.rule.source}</p>}
      </form>
    </Panel>
  );
}

type FieldsProps = {
  profile: RequirementProfile;
  settings: ProfileSettings;
  onChange: (part: Partial<RequirementProfile>) => void;
};

const WIND_FIGURES = ['pressurePa', 'flatPressurePa', 'iceThicknessM'] as const;

function WindFields({ profile: { wind }, settings, onChange }: FieldsProps) {
  const change = (part: Partial<NonNullable<typeof wind>>) => {
    if (!wind) return;
    const changed = { ...wind, ...part };
    onChange({ wind: { ...changed, source: sourceOf(changed, WIND_FIGURES, settings.winds) } });
  };
  return (
    <>
      <Start
        label="Wind"
        none="no wind"
        current={wind ? nameOf(settings.winds, wind.source) : NONE}
        starts={settings.winds}
        onStart={(start) => onChange({ wind: start && { ...pickWind(start), onPole: wind?.onPole ?? true } })}
      />
      {wind && (
        <>
          <NumberLine
            label="On round faces, Pa"
            value={wind.pressurePa}
            limits={PRESSURE}
            onCommit={(pressurePa) => change({ pressurePa })}
          />
          <NumberLine
            label="On flat faces, Pa"
            value={wind.flatPressurePa}
            limits={PRESSURE}
            onCommit={(flatPressurePa) => change({ flatPressurePa })}
          />
          <NumberLine
            label="Ice on conductors, m"
            value={wind.iceThicknessM}
            limits={{ least: 0, most: 0.2, unit: 'm' }}
            onCommit={(iceThicknessM) => change({ iceThicknessM })}
          />
          <label className="check-line">
            <input
              type="checkbox"
              checked={wind.onPole}
              onChange={() => onChange({ wind: { ...wind, onPole: !wind.onPole } })}
            />{' '}
            The wind meets the pole too
          </label>
          <p className="quiet source-line">{tellWindSource(wind)}</p>
        </>
      )}
    </>
  );
}

const FACTORS = [
  ['wind', 'Factor on wind'],
  ['tension', 'Factor on tension'],
  ['weight', 'Factor on weight'],
  ['strength', 'Strength factor'],
] as const;

function FactorFields({ profile: { loadFactors }, settings, onChange }: FieldsProps) {
  return (
    <>
      <Start
        label="Load factors"
        none="all 1"
        current={loadFactors ? nameOf(settings.loadFactors, loadFactors.source) : NONE}
        starts={settings.loadFactors}
        onStart={(start) =>
          onChange({
            loadFactors: start && {
              wind: start.wind,
              tension: start.tension,
              weight: start.weight,
              strength: start.strength,
              source: `${start.name}: ${start.source}`,
            },
          })
        }
      />
      {loadFactors && (
        <>
          {FACTORS.map(([factor, label]) => (
            <NumberLine
              key={factor}
              label={label}
              value={loadFactors[factor]}
              limits={{ least: 0.1, most: factor === 'strength' ? 1 : 10, unit: '' }}
              onCommit={(value) => {
                const changed = { ...loadFactors, [factor]: value };
                const names = FACTORS.map(([name]) => name);
                onChange({
                  loadFactors: { ...changed, source: sourceOf(changed, names, settings.loadFactors) },
                });
              }}
            />
          ))}
          <p className="quiet source-line">{loadFactors.source}</p>
        </>
      )}
    </>
  );
}

function pickWind({
  name,
  pressurePa,
  flatPressurePa,
  iceThicknessM,
  source,
}: ProfileSettings['winds'][number]) {
  return { pressurePa, flatPressurePa, iceThicknessM, source: `${name}: ${source}` };
}

/** Name of the setting that figures were taken from unchanged. */
function nameOf(starts: readonly { name: string; source: string }[], source: string): string {
  return (
    starts.find((start) => source === start.source || source === `${start.name}: ${start.source}`)?.name ??
    OWN
  );
}

function Start<T extends { name: string }>(props: {
  label: string;
  none: string;
  current: string;
  starts: readonly T[];
  onStart: (start: T | null) => void;
}) {
  const { label, none, current, starts, onStart } = props;
  return (
    <label className="select-line">
      <span>{label}</span>
      <select
        value={current}
        onChange={(event) => {
          const chosen = event.currentTarget.value;
          if (chosen !== OWN) onStart(starts.find(({ name }) => name === chosen) ?? null);
        }}
      >
        <option value={NONE}>{none}</option>
        {starts.map(({ name }) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
        {current === OWN && <option value={OWN}>figures of your own</option>}
      </select>
    </label>
  );
}

function TextLine(props: { label: string; value: string; onChange: (text: string) => void }) {
  const { label, value, onChange } = props;
  return (
    <label className="select-line">
      <span>{label}</span>
      <input
        className="text-field"
        value={value}
        maxLength={80}
        onChange={(event) => onChange(event.currentTarget.value)}
      />
    </label>
  );
}

type NumberLineProps = {
  label: string;
  value: number;
  limits: { least: number; most: number; unit: string };
  onCommit: (value: number) => void;
};

export function NumberLine({ label, value, limits, onCommit }: NumberLineProps) {
  return (
    <div className="select-line">
      <span>{label}</span>
      <NumberField label={label} value={formatSignificant(value)} limits={limits} onCommit={onCommit} />
    </div>
  );
}
