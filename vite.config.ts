import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** Build of the window. The host and the shell serve dist/renderer as it is; nothing is fetched from elsewhere. */
export default defineConfig({
  root: 'renderer',
  base: './',
  // plotly.js refers to the Node name of the global object.
  define: { global: 'globalThis' },
  plugins: [react()],
  build: {
    outDir: '../dist/renderer',
    emptyOutDir: true,
    target: 'chrome140',
    // Inlined data: addresses would need a wider content policy for fonts and scripts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 2500,
    rolldownOptions: {
      output: {
        codeSplitting: { groups: [{ name: 'plotly', test: /node_modules[\\/]plotly\.js/ }] },
      },
    },
  },
});
