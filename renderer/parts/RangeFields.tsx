import { Button } from '@mantine/core';
import type { Range } from '../state/index.ts';
import { NumberField } from './NumberField.tsx';

type RangeFieldsProps = {
  name: string;
  unit: string;
  range: Range;
  whole: Range;
  decimals: number;
  onChange: (range: Range | null) => void;
};

/** The shown range of an axis, typed: the same as dragging over the plot. */
export function RangeFields({ name, unit, range, whole, decimals, onChange }: RangeFieldsProps) {
  const set = (from: number, to: number) => {
    const within: Range = [Math.max(from, whole[0]), Math.min(to, whole[1])];
    if (within[1] > within[0]) onChange(within);
  };
  const [fromText, toText] = [range[0].toFixed(decimals), range[1].toFixed(decimals)];
  return (
    <span className="range-fields">
      <NumberField
        label={`${name} from`}
        value={fromText}
        limits={{ least: -Infinity, most: Number(toText), unit }}
        onCommit={(value) => set(value, range[1])}
      />
      to
      <NumberField
        label={`${name} to`}
        value={toText}
        limits={{ least: Number(fromText), most: Infinity, unit }}
        onCommit={(value) => set(range[0], value)}
      />
      {unit}
      <Button
        size="compact-xs"
        variant="default"
        aria-label={`Show all of ${name.toLowerCase()}`}
        onClick={() => onChange(null)}
      >
        all
      </Button>
    </span>
  );
}
