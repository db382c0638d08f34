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
  return (
    <span className="range-fields">
      <NumberField
        label={`${name} from`}
        value={range[0].toFixed(decimals)}
        onCommit={(value) => set(value, range[1])}
      />
      to
      <NumberField
        label={`${name} to`}
        value={range[1].toFixed(decimals)}
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
