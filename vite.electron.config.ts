import { defineConfig } from 'vite';

const PRELOAD = 'preload';

/**
 * Build of the shell, once a mode: `main` with the worker of its desk (ES modules), and `preload` (CommonJS, the only
 * form that a sandboxed preload may have). Packages from node_modules stay outside of the bundle.
 */
export default defineConfig(({ mode }) => ({
  build: {
    ssr: true,
    outDir: 'dist/electron',
    emptyOutDir: false,
    target: 'node24',
    rolldownOptions: {
      external: ['electron'],
      input:
        mode === PRELOAD
          ? { preload: 'electron/preload.ts' }
          : { main: 'electron/main.ts', deskWorker: 'core/workspace/deskWorker.ts' },
      output:
        mode === PRELOAD
          ? { format: 'cjs' as const, entryFileNames: '[name].cjs' }
          : { format: 'es' as const, entryFileNames: '[name].js' },
    },
  },
}));
