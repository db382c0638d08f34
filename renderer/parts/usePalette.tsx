import { useComputedColorScheme } from '@mantine/core';
import { createContext, type ReactNode, useContext } from 'react';
import { type Palette, palettes } from '../theme.ts';

const PaletteContext = createContext<Palette>(palettes.light);

/** Looks once for the scheme in use, which asks the browser, for all pictures inside. */
export function PaletteFromScheme({ children }: { children: ReactNode }) {
  const scheme = useComputedColorScheme('light', { getInitialValueInEffect: false });
  return <PaletteContext value={palettes[scheme]}>{children}</PaletteContext>;
}

export function usePalette(): Palette {
  return useContext(PaletteContext);
}
