import { useComputedColorScheme } from '@mantine/core';
import { type Palette, palettes } from '../theme.ts';

export function usePalette(): Palette {
  return palettes[useComputedColorScheme('light', { getInitialValueInEffect: false })];
}
