import { NumberField, Panel } from '../../parts/index.ts';
import { formatSignificant } from '../../words/index.ts';
import { useCalibration } from '../useCalibration.ts';

const PA_PER_MPA = 1e6;
const COST_LIMITS = { least: 1e-6, most: 1e9, unit: '' };
const FIRST_STRESS_PA = 30e6;
const FIRST_FACTOR = 2 / 3;

/** What a mistake costs, what counts as weak, and how many weak poles are to be expected. */
export function ThresholdChoicesForm() {
  const { candidates, shown, show, thresholds, setThresholds } = useCalibration();
  const { costs, weakBelow, shareWeak } = thresholds;
  return (
    <Panel title="What a mistake costs">
      <form className="choices-form" onSubmit={(event) => event.preventDefault()}>
        <label className="select-line">
          <span>Relation</span>
          <select value={shown} onChange={(event) => show(event.currentTarget.value)}>
            {candidates.map(({ name }) => (
              <option key={name}>{name}</option>
            ))}
          </select>
        </label>
        <div className="select-line">
          <span>A weak pole kept</span>
          <NumberField
            label="Cost of a weak pole kept"
            value={String(costs.missedWeak)}
            limits={COST_LIMITS}
            onCommit={(missedWeak) => setThresholds({ costs: { ...costs, missedWeak } })}
          />
        </div>
        <div className="select-line">
          <span>A needless replacement</span>
          <NumberField
            label="Cost of a needless replacement"
            value={String(costs.needlessReplacement)}
            limits={COST_LIMITS}
            onCommit={(needlessReplacement) => setThresholds({ costs: { ...costs, needlessReplacement } })}
          />
        </div>
        <p className="quiet">In any one unit: only their ratio moves the threshold.</p>
        <label className="select-line">
          <span>Weak is below</span>
          <select
            value={weakBelow.kind}
            onChange={(event) =>
              setThresholds({
                weakBelow:
                  event.currentTarget.value === 'stress'
                    ? { kind: 'stress', stressPa: FIRST_STRESS_PA }
                    : { kind: 'fibreStress', factor: FIRST_FACTOR },
              })
            }
          >
            <option value="fibreStress">share of fibre stress</option>
            <option value="stress">a stress</option>
          </select>
        </label>
        <div className="select-line">
          <span>{weakBelow.kind === 'stress' ? 'Stress, MPa' : 'Share of it'}</span>
          {weakBelow.kind === 'stress' ? (
            <NumberField
              label="Stress below which a pole is weak, MPa"
              value={formatSignificant(weakBelow.stressPa / PA_PER_MPA)}
              limits={{ least: 0.1, most: 1000, unit: 'MPa' }}
              onCommit={(mpa) => setThresholds({ weakBelow: { kind: 'stress', stressPa: mpa * PA_PER_MPA } })}
            />
          ) : (
            <NumberField
              label="Share of the fibre stress below which a pole is weak"
              value={formatSignificant(weakBelow.factor)}
              limits={{ least: 0.05, most: 2, unit: '' }}
              onCommit={(factor) => setThresholds({ weakBelow: { kind: 'fibreStress', factor } })}
            />
          )}
        </div>
        <div className="select-line">
          <span>Weak poles on the line, %</span>
          <NumberField
            label="Share of weak poles on the line in per cent"
            value={shareWeak === null ? '' : formatSignificant(100 * shareWeak)}
            placeholder="as tested"
            limits={{ least: 0.01, most: 99, unit: '%' }}
            onCommit={(percent) => setThresholds({ shareWeak: percent / 100 })}
          />
        </div>
        {shareWeak !== null && (
          <button type="button" className="plain-button" onClick={() => setThresholds({ shareWeak: null })}>
            Take the share among the tests
          </button>
        )}
      </form>
    </Panel>
  );
}
