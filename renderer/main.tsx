import '@mantine/core/styles.css';
import './window.css';
import { MantineProvider } from '@mantine/core';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { takeToken } from './client.ts';
import { PaletteFromScheme } from './parts/index.ts';
import { cssVariables, theme } from './theme.ts';

takeToken();
createRoot(document.getElementById('window')!).render(
  <StrictMode>
    <MantineProvider theme={theme} cssVariablesResolver={cssVariables} defaultColorScheme="auto">
      <PaletteFromScheme>
        <App />
      </PaletteFromScheme>
    </MantineProvider>
  </StrictMode>,
);
