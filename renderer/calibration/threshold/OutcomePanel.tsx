import { Panel, ScrollRegion } from '../../parts/index.ts';
import { formatShare, formatSignificant } from '../../words/index.ts';
import type { Price } from '../calibrationTypes.ts';
import { nameAlike, nameThreshold } from './priceAt.ts';

/** What becomes of the tested poles at one threshold, and what the tests cannot tell of it. */
export function OutcomePanel(props: { price: Price; at: number; threshold: number | null }) {
  const { price, at, threshold } = props;
  const { prices } = price;
  const step = prices.prices[at]!;
  const sound = prices.tests - prices.weak;
  return (
    <Panel title="At this threshold" remark={nameAlike(step, threshold)}>
      <ScrollRegion label="What becomes of the tested poles" className="threshold-outcome">
        <dl className="threshold-figures" aria-live="polite">
          <Figures
            name="Weak poles missed"
            count={`${step.missed.count} of ${prices.weak}`}
            interval={
              step.missedShare &&
              `${formatShare(step.missedShare.low)} to ${formatShare(step.missedShare.high)}`
            }
          />
          <Figures
            name="Sound poles replaced for nothing"
            count={`${step.needless.count} of ${sound}`}
            interval={
              step.needlessShare &&
              `${formatShare(step.needlessShare.low)} to ${formatShare(step.needlessShare.high)}`
            }
          />
          <Figures
            name="Expected cost a pole"
            count={formatSignificant(step.cost.value)}
            interval={
              step.cost.interval &&
              `${formatSignificant(step.cost.interval.low)} to ${formatSignificant(step.cost.interval.high)}`
            }
          />
          {price.roc && (
            <Figures
              name="Area under the curve; 0.5 is chance"
              count={price.roc.area.toFixed(2)}
              interval={
                price.roc.interval &&
                `${price.roc.interval.low.toFixed(2)} to ${price.roc.interval.high.toFixed(2)}`
              }
            />
          )}
          {prices.best && (
            <Figures
              name={`Least cost, corrected for choosing by the same tests; where its threshold may lie: ${nameThreshold(prices.best.thresholdLow)} to ${nameThreshold(prices.best.thresholdHigh)}`}
              count={formatSignificant(prices.best.correctedCost)}
            />
          )}
        </dl>
        <ul className="statements" aria-label="What these tests cannot tell">
          {price.unpriced.length > 0 && (
            <li>
              {price.unpriced.length} tests are not priced. {price.unpriced[0]!.reason}
            </li>
          )}
          {[...prices.statements, ...(price.roc?.statements ?? [])].map((statement) => (
            <li key={statement}>{statement}</li>
          ))}
        </ul>
      </ScrollRegion>
    </Panel>
  );
}

type FiguresProps = {
  name: string;
  count: string;
  /** null: not told, which a reader must not take for sure; absent: the figure has none of its own. */
  interval?: string | null;
};

function Figures({ name, count, interval }: FiguresProps) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <strong>{count}</strong>{' '}
        {interval !== undefined && <span className="quiet">({interval ?? 'interval not told'})</span>}
      </dd>
    </div>
  );
}
