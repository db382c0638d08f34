import './threshold.css';
import { Button } from '@mantine/core';
import { useMemo } from 'react';
import { ErrorNote, NumberField, Panel, usePalette, Waiting } from '../../parts/index.ts';
import { Figure } from '../../plots/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import { describeSpecies, formatSignificant } from '../../words/index.ts';
import type { Price } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { drawPrice, frameOf } from './drawPrice.ts';
import { OutcomePanel } from './OutcomePanel.tsx';
import { nameThreshold, showPercent, stepOf } from './priceAt.ts';
import { RocPanel } from './RocPanel.tsx';
import { SecondVisitsPanel } from './SecondVisitsPanel.tsx';
import { ThresholdChoicesForm } from './ThresholdChoicesForm.tsx';
import { ThresholdHandle } from './ThresholdHandle.tsx';

/** What each threshold costs: weak poles missed against poles replaced for nothing. */
export function ThresholdView() {
  const { candidates, shown, leftOut, thresholds } = useCalibration();
  const candidate = candidates.find(({ name }) => name === shown) ?? candidates[0]!;
  const { costs, weakBelow, shareWeak } = thresholds;
  const stored = useWindow((s) => s.stored);
  const { value, failure, waiting } = useAnswer(
    'calibration.price',
    { candidate, leftOut: [...leftOut], costs, weakBelow, shareWeak },
    stored,
  );
  return (
    <div className="choices-and-results" aria-busy={waiting}>
      <div className="threshold-side">
        <ThresholdChoicesForm />
        {value && <LimitsPanel price={value} />}
      </div>
      {failure && <ErrorNote failure={failure} />}
      {!value && !failure && (
        <Waiting what="Predicting each tested pole without itself, and pricing every threshold." />
      )}
      {value &&
        (value.prices.best ? (
          <PricedThreshold price={value} best={value.prices.best} />
        ) : (
          <OneKindOnly price={value} />
        ))}
    </div>
  );
}

/** Where no threshold parts anything, none is drawn: at the end of the axis it would look like advice. */
function OneKindOnly({ price: { prices } }: { price: Price }) {
  return (
    <Panel title="Price of a threshold" remark={`${prices.weak} weak of ${prices.tests}`}>
      <p>
        {prices.weak === 0 ? 'None' : `All ${prices.weak}`} of the {prices.tests} broken poles{' '}
        {prices.weak === 0 ? 'was' : 'were'} weak. What a threshold misses or replaces for nothing can be told
        only from tests of both kinds: break more poles, weak ones among them, or change what counts as weak.
      </p>
    </Panel>
  );
}

function PricedThreshold({ price, best }: { price: Price; best: NonNullable<Price['prices']['best']> }) {
  const palette = usePalette();
  const { thresholds, setThresholds } = useCalibration();
  const figure = useMemo(() => drawPrice(palette, price), [palette, price]);
  const { prices } = price;
  const steps = prices.prices;
  const wanted = thresholds.threshold === 'least' ? best.threshold : thresholds.threshold;
  const at = stepOf(steps, wanted);
  const step = steps[at]!;
  const move = (threshold: number | null) => setThresholds({ threshold });
  return (
    <div className="threshold-main">
      <Panel
        title="Price of a threshold"
        remark={`${prices.weak} weak of ${prices.tests}`}
        controls={
          <span className="threshold-typed">
            Replace from
            <NumberField
              label="Threshold in per cent"
              value={wanted === null ? '' : showPercent(steps, wanted)}
              placeholder="never"
              limits={{ least: 0, most: 100, unit: '%' }}
              onCommit={(percent) => move(percent / 100)}
            />
            %
            <Button size="compact-xs" variant="default" onClick={() => move(best.threshold)}>
              To the least cost
            </Button>
          </span>
        }
        table={{
          caption: describe(price, best),
          columns: [
            'Replace from',
            'Cost a pole',
            'From',
            'To',
            'Weak poles missed',
            'Needless replacements',
          ],
          rows: steps.map(({ threshold, cost, missed, needless }) => [
            nameThreshold(threshold),
            formatSignificant(cost.value),
            cost.interval ? formatSignificant(cost.interval.low) : 'unknown',
            cost.interval ? formatSignificant(cost.interval.high) : 'unknown',
            String(missed.count),
            String(needless.count),
          ]),
        }}
      >
        <Figure label={describe(price, best)} data={figure.data} layout={figure.layout}>
          {({ width, height }) => (
            <ThresholdHandle
              steps={steps}
              threshold={wanted}
              at={at}
              frame={frameOf(width)}
              height={height}
              onMove={move}
            />
          )}
        </Figure>
      </Panel>
      <RocPanel roc={price.roc} threshold={step.threshold} />
      <OutcomePanel price={price} at={at} threshold={wanted} />
      <SecondVisitsPanel />
    </div>
  );
}

function LimitsPanel({ price }: { price: Price }) {
  return (
    <Panel title="Weak below">
      <ul className="limits">
        {price.limits.map(({ species, stressPa, source }) => (
          <li key={species} title={source}>
            {describeSpecies(species)}: {formatSignificant(stressPa / 1e6)} MPa at ground line
          </li>
        ))}
      </ul>
      {price.limits[0] && <p className="quiet limits-source">{price.limits[0].source}</p>}
    </Panel>
  );
}

function describe({ prices }: Price, best: NonNullable<Price['prices']['best']>): string {
  return `Expected cost a pole over the threshold, from ${prices.tests} tests of which ${prices.weak} are weak: least, ${formatSignificant(best.cost)}, where poles are replaced from a chance of ${nameThreshold(best.threshold)} on`;
}
